import { useMemo } from 'react';
import { useLabSource } from '../bench/use-bench.tsx';
import { useTask } from '../compute/use-task.ts';
import { FigureView } from '../figure/figure-view.tsx';
import { useIsWide } from '../parts/use-is-wide.ts';

/** Height of one state's panel against the width, with the axis below them all. */
const PANEL = 0.34;
const AXIS = 0.2;

/** The motion under the ledger, moving with the hand; nothing on a narrow screen, and nothing for a relation. */
export function MotionBeside() {
  const source = useLabSource();
  const isWide = useIsWide();
  const question = useMemo(() => (source === null || !isWide ? null : { source }), [source, isWide]);
  const { answer, isWorking } = useTask('follow', 'motion', question);
  const figure = answer?.figure ?? null;
  if (!isWide || figure === null) return null;
  return (
    <section className="beside-motion" aria-labelledby="beside-motion">
      <h3 id="beside-motion">The motion</h3>
      <FigureView figure={figure} isStale={isWorking} ratio={AXIS + PANEL * figure.panels.length} />
    </section>
  );
}
