import type { ReactNode } from 'react';
import type { EditPlace } from '../../../src/edit/index.ts';
import { textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { Formula } from '../../parts/formula.tsx';

/** One formula of the file: what it is for, as it is typed, and set as mathematics. */
export function FormulaRow({
  label,
  at,
  sets = (written) => written,
  onTakeOut,
  children,
}: {
  readonly label: string;
  readonly at: EditPlace;
  /** The formula to set; what is typed where it is left out. */
  readonly sets?: (written: string) => string;
  /** Where the row may be taken out as a whole. */
  readonly onTakeOut?: () => void;
  readonly children?: ReactNode;
}) {
  const written = useBenchState(({ reading }) => textAt(reading.document?.data, at) ?? '');
  return (
    <div className="formula-row">
      <EntryField label={label} at={at} className="formula" wraps isNeeded />
      {onTakeOut === undefined ? null : (
        <button type="button" className="button plain small" onClick={onTakeOut}>
          Take out<span className="unseen"> {label}</span>
        </button>
      )}
      <Formula text={sets(written)} />
      {children}
    </div>
  );
}

/** The deed that takes a part of the file out, with its label for undo. */
export function useTakeOut(): (at: EditPlace, what: string) => void {
  const bench = useBench();
  return (at, what) => bench.edit([{ kind: 'remove', at }], { label: `${what} taken out` });
}
