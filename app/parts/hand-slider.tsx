import type { CSSProperties } from 'react';
import './hand-slider.css';

export interface HandSliderProps {
  readonly label: string;
  readonly low: number;
  readonly high: number;
  readonly step: number;
  readonly value: number;
  /** Drawn on the track: where the value came from, and one standard uncertainty to each side. */
  readonly centre: number;
  readonly uncertainty: number;
  /** What a screen reader says for a value: with its unit. */
  readonly says: (value: number) => string;
  /** While the hand moves. */
  readonly onMove: (value: number) => void;
  /** The value is to be written: the hand has let go, or a key was pressed. */
  readonly onRelease: () => void;
  /** What follows is another deed. */
  readonly onLeave: () => void;
}

/** A value in the hand: everything follows while it moves, and it is written when it is let go. */
export function HandSlider(props: HandSliderProps) {
  const { label, low, high, step, value, centre, uncertainty, says, onMove, onRelease, onLeave } = props;
  const share = (at: number): string =>
    `${(100 * (Math.min(Math.max(at, low), high) - low)) / (high - low)}%`;
  const style: CSSProperties & Record<`--${string}`, string> = {
    '--from': share(centre - uncertainty),
    '--to': share(centre + uncertainty),
    '--centre': share(centre),
  };
  return (
    <span className="hand-slider" style={style}>
      <input
        type="range"
        aria-label={label}
        aria-valuetext={says(value)}
        min={low}
        max={high}
        step={step}
        value={value}
        onChange={(event) => onMove(event.target.valueAsNumber)}
        onPointerUp={() => {
          onRelease();
          onLeave();
        }}
        onKeyUp={onRelease}
        onBlur={() => {
          onRelease();
          onLeave();
        }}
      />
    </span>
  );
}
