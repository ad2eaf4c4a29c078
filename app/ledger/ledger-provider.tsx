import { createContext, type ReactNode, useContext, useMemo } from 'react';
import type { Problem } from '../../src/problem/index.ts';
import type { GapLedger } from '../../src/reconcile/index.ts';
import { useLabSource } from '../bench/use-bench.tsx';
import type { LedgerAnswer } from '../compute/tasks/ledger.ts';
import { useTask } from '../compute/use-task.ts';
import { withLastUncertainties } from './last-uncertainties.ts';

/** The ledgers of the lab as it stands this moment. */
export interface LedgerView {
  /** Null until the first is there. */
  readonly answer: LedgerAnswer | null;
  /** Whether there are uncertainties to show; until the answer is settled they are those found last. */
  readonly hasUncertainties: boolean;
  /** Whether everything is of this moment. */
  readonly isSettled: boolean;
  readonly isWorking: boolean;
  /** How far the uncertainties are, 0 to 1; null where that is not known. */
  readonly done: number | null;
  readonly problems: readonly Problem[];
}

const LedgerContext = createContext<LedgerView | null>(null);

/** Computes the ledgers once for all screens: shares at once, uncertainties when nothing moves. */
export function LedgerProvider({ children }: { readonly children: ReactNode }) {
  const source = useLabSource();
  const quickQuestion = useMemo(
    () => (source === null ? null : { source, pass: 'at once' as const }),
    [source],
  );
  const wholeQuestion = useMemo(
    () => (source === null ? null : { source, pass: 'complete' as const }),
    [source],
  );
  const quick = useTask('follow', 'ledger', quickQuestion, { isUrgent: true });
  const whole = useTask('long', 'ledger', wholeQuestion, { isUrgent: true });
  const isWhole = whole.answer !== null && whole.answered === wholeQuestion;
  const joined = useMemo(
    () =>
      quick.answer === null || whole.answer === null
        ? null
        : withLastUncertainties(quick.answer, whole.answer),
    [quick.answer, whole.answer],
  );
  const answer = isWhole ? whole.answer : (joined ?? quick.answer ?? whole.answer);
  const hasUncertainties = isWhole || joined !== null;
  const problems = whole.problems.length > 0 ? whole.problems : quick.problems;
  const isWorking = quick.isWorking || whole.isWorking;
  const done = whole.progress === null ? null : whole.progress.done / whole.progress.total;
  const view = useMemo(
    () => ({ answer, hasUncertainties, isSettled: isWhole, isWorking, done, problems }),
    [answer, hasUncertainties, isWhole, isWorking, done, problems],
  );
  return <LedgerContext value={view}>{children}</LedgerContext>;
}

export function useLedgers(): LedgerView {
  const view = useContext(LedgerContext);
  if (view === null) throw new Error('No ledger is kept here.');
  return view;
}

/** The ledger that speaks for each result. */
export function mainLedgers({ ledgers, main }: LedgerAnswer): readonly GapLedger[] {
  return main.flatMap(([, index]) => ledgers.slice(index, index + 1));
}
