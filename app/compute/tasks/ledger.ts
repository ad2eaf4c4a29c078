import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import {
  createReconciler,
  type GapLedger,
  type LedgerMethod,
  type LedgerOutline,
  type LedgerValue,
  type Reconciler,
  withoutRounding,
} from '../../../src/reconcile/index.ts';
import { groupRuns, mainGroup, type RunGroup } from '../../../src/run/index.ts';
import { openForHand } from '../in-hand.ts';
import type { OpenedLab } from '../room.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';

export interface LedgerQuestion {
  readonly source: LabSource;
  /** At once: shares and values, of which uncertainties are not to be shown. Complete: everything. */
  readonly pass: 'at once' | 'complete';
}

export interface LedgerAnswer {
  readonly pass: LedgerQuestion['pass'];
  readonly ledgers: readonly GapLedger[];
  /** Index of the ledger that speaks for each result. */
  readonly main: readonly (readonly [result: string, index: number])[];
  /** How the uncertainties were found; null where there are none yet. */
  readonly method: LedgerMethod | null;
}

/** The gap ledgers of a lab, in two passes: what follows the hand, and what can wait. */
export const ledgerTask: Task<LedgerQuestion, LedgerAnswer> = {
  async run(room, { source, pass }, report): Promise<Outcome<LedgerAnswer>> {
    const found = await openForHand(room, source);
    if (!found.ok) return found;
    const { opened, values } = found.value;
    const made = reconcilerOf(opened);
    if (!made.ok) return made;
    if (pass === 'at once') {
      const lines = made.value.outline({ values });
      return lines.ok
        ? succeed(outlined(opened, lines.value), [...found.warnings, ...lines.warnings])
        : lines;
    }
    const reconciled = made.value.reconcile({
      values,
      progress: (done, total) => report.progress(done, total, 'effects and draws'),
    });
    if (!reconciled.ok) return reconciled;
    const { ledgers, main, method } = reconciled.value;
    return succeed({ pass, ledgers: ledgers.map(withoutFunctions), main: [...main], method }, [
      ...found.warnings,
      ...reconciled.warnings,
    ]);
  },
};

/** Equations and reduction of each lab that is open, compiled once. */
const reconcilers = new WeakMap<OpenedLab, Outcome<Reconciler>>();

function reconcilerOf(opened: OpenedLab): Outcome<Reconciler> {
  const known = reconcilers.get(opened);
  if (known !== undefined) return known;
  const made = createReconciler(opened.pipeline, opened.trials);
  reconcilers.set(opened, made);
  return made;
}

/** Lines without uncertainties as ledgers that have none to show. */
function outlined({ lab, trials }: OpenedLab, lines: readonly LedgerOutline[]): LedgerAnswer {
  const groups = groupRuns(lab, trials);
  const own = groups[mainGroup(groups, lab)]?.label;
  return {
    pass: 'at once',
    ledgers: lines.map((line) => withoutRounding(asLedger(line, runsIn(groups, line.group)))),
    main: lines.flatMap(({ result, group }, index) =>
      group === null || group === own ? [[result.name, index] as const] : [],
    ),
    method: null,
  };
}

function runsIn(groups: readonly RunGroup[], label: string | null): number {
  return groups
    .filter((one) => label === null || one.label === label)
    .reduce((sum, { trials }) => sum + trials.length, 0);
}

/** A line without uncertainties as a ledger that has none to show. */
export function asLedger(
  { result, group, theory, ideal, effects, full, measured }: LedgerOutline,
  n: number,
): GapLedger {
  const bare = (value: number): LedgerValue => ({ value, standardUncertainty: Number.NaN });
  return {
    result: { ...result, theory: null },
    group,
    theory: theory === null ? null : bare(theory),
    reduction: [],
    ideal: bare(ideal),
    effects: effects.map((share) => ({ ...share, standardUncertainty: Number.NaN })),
    full: bare(full),
    measured:
      measured === null
        ? null
        : { ...bare(measured), n, fromScatter: Number.NaN, fromQuantities: Number.NaN, interval: null },
    remainder:
      measured === null
        ? null
        : {
            ...bare(measured - full),
            z: Number.NaN,
            degreesOfFreedom: Number.NaN,
            probability: Number.NaN,
            verdict: 'unknown',
            closing: [],
          },
  };
}

/** A ledger as data: the theory of a result can be evaluated, which no message can carry. */
function withoutFunctions(ledger: GapLedger): GapLedger {
  return { ...withoutRounding(ledger), result: { ...ledger.result, theory: null } };
}
