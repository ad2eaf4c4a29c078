import type { SlippedResult } from '../../classroom/index.ts';
import type { LabResult } from '../../lab/index.ts';
import {
  type Block,
  type Inlines,
  joinInlines,
  listInlines,
  paragraph,
  plainNumber,
} from '../document/index.ts';
import type { Desk } from './desk.ts';
import { reportedValue } from './numbers.ts';
import { type Section, section } from './section.ts';
import { tableOf } from './table-parts.ts';

/** Changes below this share cannot be told from no slip at all in a class. */
const SEEN = 5e-4;

/** Each slip with the numbers that it gives, measured and by theory, beside the right ones. */
export function draftSlips(desk: Desk): readonly Section[] {
  const { gathered, phrases } = desk;
  const { guide } = phrases;
  if (gathered.slips.length === 0) return [];
  return [section('slips', paragraph(guide.slipsIntroduction), slipTable(desk))];
}

function slipTable({ gathered, phrases, names, lab }: Desk): Block {
  const { guide } = phrases;
  return tableOf(
    joinInlines(guide.slipsCaption),
    [guide.slip, ...lab.results.map((result) => guide.gives(names.symbol(result.name)))],
    ['left', ...lab.results.map((): 'left' => 'left')],
    gathered.slips.map(({ slip, results }) => [
      joinInlines(...names.words(slip.name), ...(slip.is === '' ? [] : [': ', ...names.words(slip.is)])),
      ...lab.results.map((result): Inlines => {
        const found = results.find((candidate) => candidate.result === result);
        return found === undefined ? [] : sayChange(found, ownUncertainty(gathered, result), guide);
      }),
    ]),
  );
}

/** Of the full model with the lab's own values: up to there a class can tell a wrong number from the right one. */
export function ownUncertainty({ own }: Desk['gathered'], result: LabResult): number {
  return own.results.find((found) => found.result === result)?.full.standardUncertainty ?? 0;
}

function sayChange(found: SlippedResult, u: number, guide: Desk['phrases']['guide']): Inlines {
  const { result, right, slipped, rightTheory, slippedTheory } = found;
  const pair = (wrong: number, proper: number): Inlines =>
    joinInlines(
      reportedValue(result, wrong, u),
      ` ${guide.insteadOf} `,
      reportedValue(result, proper, u),
      ...(wrong / proper > 0 ? [` (${guide.factor} `, plainNumber(wrong / proper, 3), ')'] : []),
    );
  const isSeen = (wrong: number, proper: number) => Math.abs(wrong - proper) > SEEN * Math.abs(proper);
  const parts: Inlines[] = [];
  if (isSeen(slipped, right)) parts.push(pair(slipped, right));
  if (rightTheory !== null && slippedTheory !== null && isSeen(slippedTheory, rightTheory))
    parts.push(guide.theoryBecomes(pair(slippedTheory, rightTheory)));
  return parts.length === 0 ? joinInlines(guide.unchanged) : listInlines(parts, '; ');
}
