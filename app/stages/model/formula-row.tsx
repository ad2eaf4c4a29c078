import type { ReactNode } from 'react';
import type { EditPlace, LabEdit } from '../../../src/edit/index.ts';
import { useBench } from '../../bench/use-bench.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { Formula } from '../../parts/formula.tsx';

/** One formula of the file: what it is for, as it is typed, and set as mathematics. */
export function FormulaRow({
  label,
  written,
  at,
  sets,
  toEdits,
  onTakeOut,
  holdsBack = true,
  children,
}: {
  readonly label: string;
  readonly written: string;
  readonly at: EditPlace;
  /** The formula to set; what is typed where it is left out. */
  readonly sets?: string;
  readonly toEdits?: (text: string) => readonly LabEdit[];
  /** Where the row may be taken out as a whole. */
  readonly onTakeOut?: () => void;
  readonly holdsBack?: boolean;
  readonly children?: ReactNode;
}) {
  return (
    <div className="formula-row">
      <DraftField
        label={label}
        written={written}
        at={[...at]}
        what={label}
        holdsBack={holdsBack}
        className="formula"
        wraps
        toEdits={toEdits ?? ((to) => [{ kind: 'set', at, to }])}
      />
      {onTakeOut === undefined ? null : (
        <button type="button" className="button plain small" onClick={onTakeOut}>
          Take out<span className="unseen"> {label}</span>
        </button>
      )}
      <Formula text={sets ?? written} />
      {children}
    </div>
  );
}

/** The deed that takes a part of the file out, with its label for undo. */
export function useTakeOut(): (at: EditPlace, what: string) => void {
  const bench = useBench();
  return (at, what) => bench.edit([{ kind: 'remove', at }], { label: `${what} taken out` });
}
