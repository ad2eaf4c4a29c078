import type { Stretch, ThresholdAnswer } from '../../adapt/index.ts';
import type { Lab } from '../../lab/index.ts';
import { formatUnit } from '../../quantity/index.ts';
import { printTitle } from './heading.ts';
import { sayMeasure, sayPlace } from './map-text.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** Where a condition is met along a varied quantity; one line for each value of a second one. */
export function printThresholds(
  page: Page,
  lab: Lab,
  answers: readonly { readonly at: string; readonly answer: ThresholdAnswer }[],
): string[] {
  const [first] = answers;
  if (first === undefined) return printTitle(page, lab);
  const { condition } = first.answer;
  if (answers.length === 1) return [...printTitle(page, lab), '', ...printAnswer(page, first.answer)];
  return [
    ...printTitle(page, lab),
    '',
    ...printParagraph(page, `${condition.text} is met`),
    ...printTable(
      page,
      [{}, { widest: 70 }],
      answers.map(({ at, answer }) => [page.plain(`  with ${at}`), page.plain(sayStretches(page, answer))]),
    ),
  ];
}

function printAnswer(page: Page, answer: ThresholdAnswer): string[] {
  const { condition, variation, looked } = answer;
  const values = looked.map(({ value }) => value).filter((value) => !Number.isNaN(value));
  const unit = formatUnit(condition.measure.unit);
  const lines = printParagraph(page, `${condition.text} is met ${sayStretches(page, answer)}.`);
  const range = `Over ${sayRange(page, answer)} ${condition.measure.text} lies between ${sayMeasure(page, condition.measure, Math.min(...values))} and ${sayMeasure(page, condition.measure, Math.max(...values))} ${unit}.`;
  const failures =
    answer.failed === 0 || answer.firstFailure === null
      ? []
      : printParagraph(
          page,
          `At ${answer.failed} of ${looked.length} places the lab cannot be run, the first time because: ${answer.firstFailure.message}`,
        );
  const note =
    variation.kind === 'range' && answer.stretches.length > 0
      ? printParagraph(
          page,
          `Looked at ${looked.length} places and solved for each change between them; a stretch narrower than that could be missed.`,
        )
      : [];
  return [...lines, ...printParagraph(page, range), ...note, ...failures];
}

function sayRange(page: Page, { variation, looked }: ThresholdAnswer): string {
  const unit = formatUnit(variation.quantity.unit);
  const first = looked[0]?.at ?? Number.NaN;
  const last = looked[looked.length - 1]?.at ?? Number.NaN;
  return `${variation.quantity.name} from ${sayPlace(page, variation, first)} to ${sayPlace(page, variation, last)} ${unit}`.trim();
}

/** 'for L ≥ 1.234 m'; 'nowhere in the range'; 'everywhere in the range'. */
function sayStretches(page: Page, { variation, stretches }: ThresholdAnswer): string {
  if (stretches.length === 0) return `nowhere in that range of ${variation.quantity.name}`;
  const [only] = stretches;
  if (variation.kind === 'range' && stretches.length === 1 && only?.begins === false && !only.ceases)
    return `everywhere in that range of ${variation.quantity.name}`;
  return stretches.map((stretch) => sayStretch(page, { variation, stretch })).join(' and ');
}

function sayStretch(
  page: Page,
  { variation, stretch }: { readonly variation: ThresholdAnswer['variation']; readonly stretch: Stretch },
): string {
  const unit = formatUnit(variation.quantity.unit);
  const { name } = variation.quantity;
  const say = (value: number) => `${sayPlace(page, variation, value, 6)} ${unit}`.trim();
  if (variation.kind === 'list') return `for ${name} = ${say(stretch.from)}`;
  if (stretch.begins && stretch.ceases)
    return `for ${name} between ${say(stretch.from)} and ${say(stretch.to)}`;
  return stretch.begins ? `for ${name} above ${say(stretch.from)}` : `for ${name} below ${say(stretch.to)}`;
}
