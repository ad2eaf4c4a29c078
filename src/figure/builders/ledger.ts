import { formatUnit, fromSI } from '../../quantity/index.ts';
import { type GapLedger, isWorthALine, type LedgerValue } from '../../reconcile/index.ts';
import type { AxisRow, ChartFigure, Level, SeriesRole } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { axisTitle } from '../layout/axis-title.ts';
import { numberAxis } from '../number-axis.ts';
import type { Phrases } from '../phrases.ts';
import { fromText, plainText, upright } from '../rich-text.ts';
import { sayChange, sayMeasured, sayNumber, writeMeasured } from '../say-number.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** One row of the ledger, as it is drawn, printed and said. */
interface LedgerRow {
  readonly part: 'total' | 'shift' | 'effect' | 'remainder';
  readonly label: string;
  /** With its unit, for sentences; without, for the figure. */
  readonly said: string;
  readonly printed: string;
  readonly level: Level;
}

/**
 * The gap ledger as a waterfall on its side: theory and ideal model, each effect as an arrow from where the last one
 * ended, the full model, what was measured, and the remainder as an empty arrow.
 *
 * Whiskers are one standard uncertainty. All numbers stand at the right, so that the axis need not be read.
 */
export function ledgerFigure(ledger: GapLedger, wording: Wording): ChartFigure {
  const phrases = phrasesOf(wording.language);
  const { result, group, remainder } = ledger;
  const unit = formatUnit(result.unit);
  const quantity = symbolText(result.name);
  const rows = rowsOf(ledger, unit, phrases, wording);
  const named = plainText(quantity);
  const title = phrases.ledgerTitle(group === null ? named : `${named}, ${group}`);
  return {
    kind: 'chart',
    name: figureName('ledger', result.name, group ?? ''),
    title,
    description: describeLedger(ledger, rows, named, phrases, wording),
    ...wording,
    statement: remainder === null ? [] : [upright(phrases.verdicts[remainder.verdict])],
    x: numberAxis(quantity, unit),
    panels: [
      {
        share: 1,
        y: {
          kind: 'rows',
          rows: rows.map(
            ({ label, printed, level }): AxisRow => ({
              label: fromText(label),
              value: fromText(printed),
              strong: level.kind !== 'step',
            }),
          ),
          valueHeading: axisTitle({ quantity, unit }),
        },
        marks: [{ kind: 'levels', role: 'measured', name: [], levels: rows.map(({ level }) => level) }],
      },
    ],
  };
}

function rowsOf(ledger: GapLedger, unit: string, phrases: Phrases, wording: Wording): readonly LedgerRow[] {
  const { result, theory, ideal, effects, full, measured, remainder } = ledger;
  const inUnit = (value: number, as: 'point' | 'interval'): number => fromSI(value, result.unit, as);
  const total = (label: string, role: SeriesRole, { value, standardUncertainty }: LedgerValue): LedgerRow => {
    const own = inUnit(value, 'point');
    const u = inUnit(standardUncertainty, 'interval');
    return {
      part: 'total',
      label,
      said: sayMeasured(own, u, unit, wording),
      printed: writeMeasured(own, u, wording),
      level: { kind: 'total', role, value: own, standardUncertainty: u },
    };
  };
  const step = (
    kind: 'step' | 'rest',
    label: string,
    from: number,
    to: number,
    change: LedgerValue,
  ): LedgerRow => {
    const by = inUnit(change.value, 'interval');
    const u = inUnit(change.standardUncertainty, 'interval');
    const ends = { from: inUnit(from, 'point'), to: inUnit(to, 'point') };
    return {
      part: kind === 'rest' ? 'remainder' : 'effect',
      label,
      said: sayChange(by, u, unit, wording),
      printed: `${by > 0 ? '+' : ''}${writeMeasured(by, u, wording)}`,
      level: { kind, ...ends, standardUncertainty: u },
    };
  };
  // A formula and a model without reduction may differ beside, so each is shown by itself, ending at the ideal model.
  const shifts = shiftsWorthShowing(ledger).map(({ step: name, shift }): LedgerRow => {
    const by = inUnit(shift, 'interval');
    const sign = by > 0 ? '+' : '';
    const to = inUnit(ideal.value, 'point');
    return {
      part: 'shift',
      label: name,
      said: sign + sayNumber(by, unit, wording, 2),
      printed: sign + sayNumber(by, '', wording, 2),
      level: { kind: 'step', from: to - by, to, standardUncertainty: 0 },
    };
  });
  let reached = ideal.value;
  const steps = effects.map(({ effect, share, standardUncertainty }, index) => {
    const from = reached;
    // The last step ends at the full model itself, not a rounding error beside it.
    reached = index === effects.length - 1 ? full.value : from + share;
    return step('step', effect, from, reached, { value: share, standardUncertainty });
  });
  return [
    ...(theory === null ? [] : [total(phrases.theory, 'theory', theory)]),
    ...shifts,
    total(phrases.ideal, 'ideal', ideal),
    ...steps,
    total(phrases.full, 'full', full),
    ...(measured === null ? [] : [total(phrases.measured, 'measured', measured)]),
    ...(measured === null || remainder === null
      ? []
      : [step('rest', phrases.remainder, full.value, measured.value, remainder)]),
  ];
}

/** A step of the reduction has a row where it shifts the result by more than a tenth of the uncertainty. */
function shiftsWorthShowing({ reduction, measured, full }: GapLedger): GapLedger['reduction'] {
  const { standardUncertainty } = measured ?? full;
  return reduction.filter(({ shift }) => isWorthALine(shift, standardUncertainty));
}

function describeLedger(
  { remainder }: GapLedger,
  rows: readonly LedgerRow[],
  result: string,
  phrases: Phrases,
  wording: Wording,
): string {
  const changes = (part: LedgerRow['part']): readonly { name: string; change: string }[] =>
    rows.filter((row) => row.part === part).map(({ label, said }) => ({ name: label, change: said }));
  const fullAt = rows.findIndex(({ level }) => level.kind === 'total' && level.role === 'full');
  const sayTotals = (from: number, to: number): readonly string[] =>
    rows
      .slice(from, to)
      .filter(({ part }) => part === 'total')
      .map(({ label, said }) => phrases.sayLevel({ name: label, value: said }));
  const shifts = changes('shift');
  const [rest] = changes('remainder');
  return [
    ...sayTotals(0, fullAt),
    ...(shifts.length === 0 ? [] : [phrases.sayShifts({ result, steps: shifts })]),
    phrases.sayEffects({ result, effects: changes('effect') }),
    ...sayTotals(fullAt, rows.length),
    ...(remainder === null || rest === undefined
      ? []
      : [
          phrases.sayRemainder({
            value: rest.change,
            inUncertainties: Number.isFinite(remainder.z)
              ? sayNumber(Math.abs(remainder.z), '', wording, 2)
              : null,
            verdict: remainder.verdict,
          }),
        ]),
  ].join(' ');
}
