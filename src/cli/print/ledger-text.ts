import stringWidth from 'string-width';
import { fromSI } from '../../quantity/index.ts';
import { type GapLedger, type LedgerValue, percentScale, sayVerdict } from '../../reconcile/index.ts';
import { nameResult } from './heading.ts';
import { alignNumbers, printRough, type TableNumber } from './numbers.ts';
import type { Page, Style } from './page.ts';
import { padEnd, printParagraph, printTable } from './table.ts';
import { verdictStyle } from './verdict-style.ts';
import { drawWaterfall, type WaterfallRow } from './waterfall.ts';

/** A row of the ledger before it is printed, numbers in the result's unit. */
interface Row {
  readonly label: string;
  readonly number: TableNumber;
  readonly drawing: WaterfallRow;
  readonly style: Style;
}

/** Longest name of an effect in one line that leaves room for the numbers and the drawing on 80 characters. */
const widestLabel = 30;

/** A narrower drawing tells nothing. */
const narrowestDrawing = 12;

/** A gap ledger for people: from theory to what was measured, a row each, a waterfall beside the numbers. */
export function printLedger(page: Page, ledger: GapLedger): string[] {
  const rows = rowsOf(ledger);
  const { values, uncertainties, exponent } = alignNumbers(
    page,
    rows.map((row) => row.number),
  );
  const labels = rows.map(({ label }) => page.plain(label));
  const percents = printPercents(page, ledger, rows);
  const columns = [
    { texts: labels, widest: widestLabel },
    { texts: values },
    { texts: uncertainties },
    { texts: percents, align: 'right' as const },
  ].filter(({ texts }) => texts.some((text) => text !== ''));
  const left = columns.reduce(
    (sum, { texts, widest = page.width }) => sum + 2 + Math.min(widest, longest(texts)),
    0,
  );
  const drawings =
    page.width - left < narrowestDrawing
      ? []
      : drawWaterfall(
          rows.map((row) => row.drawing),
          page.width - left,
          page.glyphs,
        );
  const table = printTable(
    page,
    [...columns, {}],
    rows.map(({ style }, index) => [
      ...columns.map(({ texts }) => ({
        text: texts[index] ?? '',
        ...(texts === labels && style !== 'effect' ? { style } : {}),
      })),
      { text: drawings[index] ?? '', style },
    ]),
  );
  return [
    printTitleLine(page, nameResult(page, ledger.result, exponent), ledger.group ?? ''),
    page.paint(page.glyphs.rule.repeat(page.width), 'faint'),
    ...table,
    ...printVerdict(page, ledger),
  ];
}

function rowsOf(ledger: GapLedger): readonly Row[] {
  const { unit } = ledger.result;
  const change = (value: number) => fromSI(value, unit, 'interval');
  const total = (label: string, value: LedgerValue | null): Row[] => {
    if (value === null) return [];
    const number = {
      value: fromSI(value.value, unit, 'point'),
      standardUncertainty: change(value.standardUncertainty),
    };
    return [{ label, number, drawing: { kind: 'total', ...number }, style: 'strong' }];
  };
  let level = fromSI(ledger.ideal.value, unit, 'point');
  const effects = ledger.effects.map(({ effect, share, standardUncertainty }): Row => {
    const from = level;
    level += change(share);
    return {
      label: `  ${effect}`,
      number: { value: change(share), standardUncertainty: change(standardUncertainty), signed: true },
      drawing: { kind: 'step', from, to: level },
      style: 'effect',
    };
  });
  const ideal = fromSI(ledger.ideal.value, unit, 'point');
  const shifts = worthShowing(ledger).map(
    ({ step, shift }): Row => ({
      label: `  ${step}`,
      number: { value: change(shift), signed: true },
      drawing: { kind: 'step', from: ideal - change(shift), to: ideal },
      style: 'effect',
    }),
  );
  const { measured, remainder } = ledger;
  const full = fromSI(ledger.full.value, unit, 'point');
  const rest: Row[] =
    remainder === null
      ? []
      : [
          {
            label: 'remainder',
            number: {
              value: change(remainder.value),
              standardUncertainty: change(remainder.standardUncertainty),
              signed: true,
            },
            drawing: { kind: 'rest', from: full, to: full + change(remainder.value) },
            style: verdictStyle(remainder.verdict),
          },
        ];
  const runs =
    measured === null ? '' : measured.n === 1 ? 'measured (1 run)' : `measured (${measured.n} runs)`;
  return [
    ...total('theory', ledger.theory),
    ...shifts,
    ...total('ideal simulation', ledger.ideal),
    ...effects,
    ...total('full model', ledger.full),
    ...total(runs, measured),
    ...rest,
  ];
}

/** A step of the reduction has a row where it shifts the result by more than a tenth of the uncertainty. */
function worthShowing({ reduction, measured, full }: GapLedger): GapLedger['reduction'] {
  const { standardUncertainty } = measured ?? full;
  return reduction.filter(({ shift }) => Math.abs(shift) > standardUncertainty / 10);
}

/** Changes in per cent of the ideal value, where that is known well enough to be a scale. */
function printPercents(page: Page, ledger: GapLedger, rows: readonly Row[]): string[] {
  const { unit } = ledger.result;
  // A unit with a zero of its own, such as degrees Celsius, has a scale of its own.
  if (percentScale(ledger) === null) return rows.map(() => '');
  const scale = Math.abs(fromSI(ledger.ideal.value, unit, 'point'));
  if (!(scale > 3 * fromSI(ledger.ideal.standardUncertainty, unit, 'interval'))) return rows.map(() => '');
  return rows.map(({ number }) =>
    number.signed === true ? page.plain(`${printRough(page, (100 * number.value) / scale, 1, true)} %`) : '',
  );
}

function printTitleLine(page: Page, title: string, group: string): string {
  const where = group === 'as given' ? '' : page.plain(group);
  if (stringWidth(title) + 2 + stringWidth(where) > page.width)
    return page.paint(`${title}  ${where}`, 'strong');
  return page.paint((padEnd(title, page.width - stringWidth(where)) + where).trimEnd(), 'strong');
}

function printVerdict(page: Page, { remainder, measured }: GapLedger): string[] {
  if (measured === null || remainder === null)
    return ['', ...printParagraph(page, 'No trials yet: nothing was measured that could be compared.')];
  const size = Number.isFinite(remainder.z) ? ` (${printRough(page, Math.abs(remainder.z))} u)` : '';
  const verdict = sayVerdict(remainder.verdict);
  const sentence = `${verdict.charAt(0).toUpperCase()}${verdict.slice(1)}${size}.`;
  return [
    '',
    ...printParagraph(page, sentence).map((line) => page.paint(line, verdictStyle(remainder.verdict))),
  ];
}

function longest(texts: readonly string[]): number {
  return Math.max(0, ...texts.map((text) => stringWidth(text)));
}
