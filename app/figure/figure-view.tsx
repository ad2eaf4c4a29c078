import {
  type KeyboardEvent,
  type PointerEvent,
  type ReactNode,
  useDeferredValue,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react';
import {
  type Figure,
  layOut,
  type Reading,
  readAt,
  type Scene,
  toSvg,
  zoomFigure,
} from '../../src/figure/index.ts';
import { Rich } from '../parts/rich.tsx';
import { useFigureTheme } from '../parts/theme.ts';
import { FigureActions } from './figure-actions.tsx';
import { useWidth } from './use-width.ts';
import {
  acrossHeight,
  panView,
  type Spread,
  scaleView,
  spreadToView,
  stretchOf,
  type ZoomView,
} from './view.ts';
import { walkReadings } from './walk-readings.ts';

/** Height against width, unless a figure asks for another. */
const USUAL_RATIO = 0.62;

/** A drag shorter than this is a click. */
const LEAST_DRAG = 8;

export interface FigureViewProps {
  readonly figure: Figure;
  readonly ratio?: number;
  /** Beside the actions under the figure. */
  readonly children?: ReactNode;
  /** Whether numbers are old while new ones are computed. */
  readonly isStale?: boolean;
  /** Where given, a drag marks a stretch of the axis from left to right instead of zooming. */
  readonly onMark?: (from: number, to: number) => void;
}

/**
 * A figure on the screen, drawn as documents draw it: it can be zoomed by dragging, read at a point by pointer or
 * arrow keys, copied, and looked at as numbers.
 */
export function FigureView({
  figure,
  ratio = USUAL_RATIO,
  children,
  isStale = false,
  onMark,
}: FigureViewProps) {
  const theme = useFigureTheme();
  const id = useId().replace(/[^a-z0-9]/gi, '');
  const [frame, width] = useWidth();
  const [view, setView] = useState<ZoomView | null>(null);
  const [reading, setReading] = useState<Reading | null>(null);
  const [drag, setDrag] = useState<Spread | null>(null);
  const start = useRef<{ x: number; y: number } | null>(null);
  const shown = useDeferredValue(figure);
  const zoomed = useMemo(
    () => (shown.kind === 'chart' && view !== null ? zoomFigure(shown, view) : shown),
    [shown, view],
  );
  const scene = useMemo(() => {
    if (width === 0) return null;
    const size = {
      widthPt: width,
      heightPt: Math.round(width * ratio),
      fontPt: 13,
      shows: 'everything',
    } as const;
    return layOut(zoomed, { theme, size });
  }, [zoomed, theme, width, ratio]);
  const svg = useMemo(() => (scene === null ? '' : toSvg(scene, { idPrefix: id })), [scene, id]);

  const spotOf = (event: PointerEvent, within: Scene) => {
    const box = event.currentTarget.getBoundingClientRect();
    const scale = within.widthPt / box.width;
    return { x: (event.clientX - box.left) * scale, y: (event.clientY - box.top) * scale };
  };
  const onPointerDown = (event: PointerEvent) => {
    // A finger scrolls the page, unless there is something to mark.
    const isFinger = event.pointerType === 'touch' && onMark === undefined;
    if (scene === null || zoomed.kind !== 'chart' || event.button !== 0 || isFinger) return;
    start.current = spotOf(event, scene);
    event.currentTarget.setPointerCapture(event.pointerId);
  };
  const onPointerMove = (event: PointerEvent) => {
    if (scene === null || zoomed.kind !== 'chart') return;
    const spot = spotOf(event, scene);
    if (start.current !== null) {
      setReading(null);
      const { from, to } = { from: start.current, to: spot };
      setDrag(onMark === undefined ? { from, to } : acrossHeight(scene, from.x, to.x));
    } else {
      setReading(readAt(zoomed, scene, spot));
    }
  };
  const onPointerUp = () => {
    start.current = null;
    if (drag !== null && scene !== null && zoomed.kind === 'chart') {
      if (onMark !== undefined) {
        const stretch = stretchOf(scene, drag);
        if (Math.abs(drag.to.x - drag.from.x) > LEAST_DRAG && stretch !== null) onMark(...stretch);
      } else {
        const isWide = Math.hypot(drag.to.x - drag.from.x, drag.to.y - drag.from.y) > LEAST_DRAG;
        const next = isWide ? spreadToView(scene, zoomed, drag) : null;
        if (next !== null) setView(next);
      }
    }
    setDrag(null);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (scene === null || zoomed.kind !== 'chart') return;
    const step = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
    if (step !== 0 && event.shiftKey) setView(panView(scene, zoomed, step));
    else if (step !== 0) setReading(walkReadings(zoomed, scene, reading, step));
    else if (event.key === '+' || event.key === '=') setView(scaleView(scene, zoomed, 0.5));
    else if (event.key === '-') setView(scaleView(scene, zoomed, 2));
    else if (event.key === 'Escape' || event.key === '0') {
      setView(null);
      setReading(null);
    } else return;
    event.preventDefault();
  };

  const hint =
    zoomed.kind === 'chart'
      ? 'Arrow keys read values, plus and minus zoom, Escape shows the whole figure.'
      : '';
  return (
    <figure className="figure" data-stale={isStale} data-busy={isStale}>
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset is for controls; this groups a picture and its reading. */}
      <div
        className="figure-plot"
        data-marks={onMark !== undefined}
        ref={frame}
        role="group"
        aria-label={`${figure.title}. ${hint}`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: values are read with the arrow keys.
        tabIndex={0}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerLeave={() => setReading(null)}
        onDoubleClick={() => setView(null)}
        onKeyDown={onKeyDown}
      >
        <div
          className="figure-drawing"
          // biome-ignore lint/security/noDangerouslySetInnerHtml: from our own writer of SVG, which escapes every text.
          dangerouslySetInnerHTML={{ __html: svg }}
        />
        {scene !== null && reading !== null ? <ReadingMark reading={reading} scene={scene} /> : null}
        {scene !== null && drag !== null ? <DragMark drag={drag} scene={scene} /> : null}
      </div>
      <p className="unseen" aria-live="polite">
        {reading === null ? '' : <Rich text={reading.text} />}
      </p>
      <FigureActions figure={figure} isZoomed={view !== null} onWhole={() => setView(null)}>
        {children}
      </FigureActions>
    </figure>
  );
}

function percent(value: number, whole: number): string {
  return `${(100 * value) / whole}%`;
}

function ReadingMark({ reading, scene }: { readonly reading: Reading; readonly scene: Scene }) {
  const { x, y } = reading.at;
  const side = x > scene.widthPt * 0.6 ? 'left' : 'right';
  return (
    <div
      className="reading-mark"
      data-side={side}
      style={{ left: percent(x, scene.widthPt), top: percent(y, scene.heightPt) }}
      aria-hidden="true"
    >
      <span className="reading-text">
        <Rich text={reading.text} />
      </span>
    </div>
  );
}

function DragMark({ drag, scene }: { readonly drag: Spread; readonly scene: Scene }) {
  const left = Math.min(drag.from.x, drag.to.x);
  const top = Math.min(drag.from.y, drag.to.y);
  return (
    <div
      className="drag-mark"
      style={{
        left: percent(left, scene.widthPt),
        top: percent(top, scene.heightPt),
        width: percent(Math.abs(drag.to.x - drag.from.x), scene.widthPt),
        height: percent(Math.abs(drag.to.y - drag.from.y), scene.heightPt),
      }}
    />
  );
}
