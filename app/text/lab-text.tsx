import { useEffect, useMemo, useRef } from 'react';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { type LabEditor, openLabEditor } from './lab-editor.ts';
import { withPlainLineEnds } from './least-change.ts';
import { markProblems } from './problem-marks.ts';

/** The editor with the messages of the text under it, each leading to its place. */
export default function LabText() {
  const bench = useBench();
  const place = useRef<HTMLDivElement>(null);
  const editor = useRef<LabEditor | null>(null);
  useEffect(() => {
    if (place.current === null) return;
    const opened = openLabEditor(place.current, bench);
    editor.current = opened;
    place.current.scrollIntoView({ block: 'nearest' });
    return () => opened.close();
  }, [bench]);
  const reading = useBenchState((state) => state.reading);
  const marks = useMemo(() => markProblems(withPlainLineEnds(reading.text), reading.problems), [reading]);
  return (
    <>
      <div className="text-place" ref={place} />
      <ul className="problems text-problems" aria-label="Messages on the text" aria-live="polite">
        {marks.map(({ from, problem }) => (
          <li key={`${problem.code} ${from} ${problem.message}`} data-severity={problem.severity}>
            <button type="button" className="button plain small" onClick={() => editor.current?.goTo(from)}>
              line {problem.place.line}
            </button>{' '}
            {problem.message}
            {problem.tryThis === undefined ? null : ` ${problem.tryThis}`}
          </li>
        ))}
      </ul>
    </>
  );
}
