import { type Block, type Inlines, joinInlines, paragraph, plainNumber, point } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { type Section, section } from './section.ts';
import { tableOf } from './table-parts.ts';

/** Below this a weight says no more than that there is none. */
const LEAST = 5e-4;

/** The lab's models side by side, each with the weight that the trials give it. */
export function draftModels(desk: Desk): readonly Section[] {
  const { gathered, phrases, names } = desk;
  const [best, next] = gathered.models.toSorted((a, b) => b.weight - a.weight);
  if (best === undefined || next === undefined) return [];
  const { guide } = phrases;
  const odds = plainNumber(Math.exp(-next.logEvidence), 2);
  return [
    section(
      'models',
      paragraph(guide.modelsIntroduction),
      modelTable(desk),
      paragraph(
        ...guide.modelChosen(names.words(best.model.name), odds, names.words(next.model.name)),
        ' ',
        guide.modelsPay,
      ),
    ),
  ];
}

function modelTable({ gathered, phrases, names }: Desk): Block {
  const { guide } = phrases;
  return tableOf(
    joinInlines(guide.modelsCaption),
    [guide.model, guide.weight, guide.leftFree],
    ['left', 'number', 'left'],
    gathered.models.map(({ model, weight, free }): Inlines[] => [
      joinInlines(...names.words(model.name), ...(model.is === '' ? [] : [': ', ...names.words(model.is)])),
      [plainNumber(weight, weight < LEAST ? 1 : weight < 0.1 ? 2 : 3)],
      free.flatMap(({ quantity, posterior }, index) => [
        ...joinInlines(index === 0 ? '' : '; ', names.symbol(quantity.name), ' = '),
        point(posterior.value, posterior.standardUncertainty, quantity.unit),
      ]),
    ]),
  );
}
