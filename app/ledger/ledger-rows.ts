import { formatMeasured, formatNumber, fromSI } from '../../src/quantity/index.ts';
import type { GapLedger, LedgerValue } from '../../src/reconcile/index.ts';

/** One row of the ledger as the screen shows it, numbers in the result's unit. */
export interface LedgerRow {
  readonly kind: 'theory' | 'shift' | 'ideal' | 'effect' | 'off' | 'full' | 'measured' | 'remainder';
  readonly label: string;
  /** Where its bar begins and ends; the same for a total. */
  readonly from: number;
  readonly to: number;
  readonly standardUncertainty: number;
  /** As printed, without unit. */
  readonly printed: string;
}

/** An uncertainty below this share of the full model's prints no digits of its own: nobody could see them. */
const UNSEEN = 0.01;

/**
 * The ledger from theory to what was measured, a row each, in the order in which one reads it.
 *
 * @param order all effects of the lab; those that are not in the ledger are switched off, and keep their place
 */
export function rowsOfLedger(
  ledger: GapLedger,
  hasUncertainties: boolean,
  order: readonly string[] = ledger.effects.map(({ effect }) => effect),
): readonly LedgerRow[] {
  const { result, theory, ideal, effects, full, measured, remainder } = ledger;
  const point = (si: number): number => fromSI(si, result.unit, 'point');
  const interval = (si: number): number => fromSI(si, result.unit, 'interval');
  const floor = hasUncertainties ? interval(full.standardUncertainty) * UNSEEN : 0;
  const print = (value: number, u: number, isChange: boolean): string => {
    const text = !(hasUncertainties && Number.isFinite(u))
      ? formatNumber(value, { significant: isChange ? 2 : 4 })
      : floor > 0 && u < floor
        ? formatNumber(value, { decimals: Math.max(0, Math.ceil(-Math.log10(floor))) })
        : formatMeasured({ value, standardUncertainty: u, unit: '' });
    return isChange && value > 0 ? `+${text}` : text;
  };
  const total = (
    kind: LedgerRow['kind'],
    label: string,
    { value, standardUncertainty }: LedgerValue,
  ): LedgerRow => {
    const at = point(value);
    const u = interval(standardUncertainty);
    return { kind, label, from: at, to: at, standardUncertainty: u, printed: print(at, u, false) };
  };
  const change = (
    kind: LedgerRow['kind'],
    label: string,
    from: number,
    to: number,
    standardUncertainty: number,
  ): LedgerRow => {
    const u = interval(standardUncertainty);
    const ends = { from: point(from), to: point(to) };
    return { kind, label, ...ends, standardUncertainty: u, printed: print(ends.to - ends.from, u, true) };
  };
  let reached = ideal.value;
  const effectRows = order.map((name): LedgerRow => {
    const found = effects.find(({ effect }) => effect === name);
    const from = reached;
    if (found === undefined)
      return { ...change('off', name, from, from, Number.NaN), printed: 'switched off' };
    reached += found.share;
    return change('effect', name, from, reached, found.standardUncertainty);
  });
  const runs = measured === null ? '' : measured.n === 1 ? ', 1 run' : `, ${measured.n} runs`;
  return [
    ...(theory === null ? [] : [total('theory', 'theory', theory)]),
    ...shiftsWorthShowing(ledger).map(({ step, shift }) =>
      change('shift', step, ideal.value - shift, ideal.value, Number.NaN),
    ),
    total('ideal', 'ideal model', ideal),
    ...effectRows,
    total('full', 'full model', full),
    ...(measured === null ? [] : [total('measured', `measured${runs}`, measured)]),
    ...(measured === null || remainder === null
      ? []
      : [change('remainder', 'what is left', full.value, measured.value, remainder.standardUncertainty)]),
  ];
}

/** A step of the reduction has a row where it shifts the result by more than a tenth of the uncertainty. */
function shiftsWorthShowing({ reduction, measured, full }: GapLedger): GapLedger['reduction'] {
  const { standardUncertainty } = measured ?? full;
  return reduction.filter(({ shift }) => Math.abs(shift) > standardUncertainty / 10);
}

/** The stretch of the result's axis that holds all rows with their uncertainties, and some air. */
export function reachOfRows(rows: readonly LedgerRow[]): readonly [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { from, to, standardUncertainty } of rows) {
    const u = Number.isFinite(standardUncertainty) ? standardUncertainty : 0;
    low = Math.min(low, from, to - u);
    high = Math.max(high, from, to + u);
  }
  const air = (high - low) * 0.06 || Math.abs(high) * 0.01 || 1;
  return [low - air, high + air];
}
