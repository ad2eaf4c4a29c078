import { stepsFigure } from '../../figure/index.ts';
import type { StepperTable } from '../../run/index.ts';
import { type Block, chosen, interval, joinInlines, paragraph } from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { type Section, section } from './section.ts';
import { bareNumber, headWithUnit, tableOf } from './table-parts.ts';
import { SECOND } from './units.ts';

/** Methods that a class uses; the better ones are in the figure. */
const METHODS = ['forward-euler', 'semi-implicit-euler'] as const;

/** How short the steps of the step loop must be: table, largest good step, and the figure of all methods. */
export function draftSteps(desk: Desk): readonly Section[] {
  const { gathered, phrases, lab, names, wording } = desk;
  const { guide } = phrases;
  const [result] = lab.results.filter(({ scope }) => scope === 'run');
  if (result === undefined || gathered.steps.length === 0) return [];
  const tables = gathered.steps.filter((table) => table.result === result.name);
  const [plain, ...better] = METHODS.flatMap(
    (method) => tables.find(({ stepper }) => stepper === method) ?? [],
  );
  if (plain === undefined) return [];
  // Where nothing has a place, speeds first and all at once are the same steps.
  const shown = [plain, ...better.filter((table) => !isAlike(table, plain))];
  const rows = shown[0]?.rows ?? [];
  const largest = shown.flatMap(({ stepper, largestGoodStepS }): Block[] =>
    largestGoodStepS === null
      ? []
      : [paragraph(...guide.largestStep(guide.methods[stepper], chosen(largestGoodStepS, SECOND)))],
  );
  const u = mainLedger(gathered, result.name)?.measured?.standardUncertainty ?? null;
  return [
    section(
      'steps',
      paragraph(shown.length > 1 ? guide.stepsIntroduction : guide.stepsIntroductionOne),
      tableOf(
        guide.stepsCaption(names.result(result)),
        [
          headWithUnit(joinInlines(guide.step), SECOND),
          ...shown.map(({ stepper }) => headWithUnit(joinInlines(guide.methods[stepper]), result.unit)),
        ],
        ['number', ...shown.map((): 'number' => 'number')],
        rows.map(({ stepS }, row) => [
          [bareNumber(chosen(stepS, SECOND))],
          ...shown.map((table) => {
            const error = table.rows[row]?.error ?? Number.NaN;
            return Number.isFinite(error)
              ? [bareNumber(interval(error, 0, result.unit, 2))]
              : joinInlines('–');
          }),
        ]),
      ),
      ...largest,
      {
        kind: 'figure',
        figure: stepsFigure(tables, result, u, wording),
        caption: guide.stepsCaption(names.result(result)),
      },
    ),
  ];
}

/** Errors that print alike, in two digits, are the same to whoever reads the table. */
function isAlike(one: StepperTable, other: StepperTable): boolean {
  return one.rows.every(({ error }, row) => {
    const difference = Math.abs(error - (other.rows[row]?.error ?? Number.NaN));
    return difference <= 0.005 * Math.abs(error) || Object.is(error, other.rows[row]?.error);
  });
}
