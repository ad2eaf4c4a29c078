import type { LabResult } from '../../lab/index.ts';
import { formatUnit, fromSI } from '../../quantity/index.ts';
import type { StepperTable } from '../../run/index.ts';
import type { ChartFigure, CurveMark, Mark, PointsMark, SeriesRole } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { numberAxis } from '../number-axis.ts';
import { plainText, upright } from '../rich-text.ts';
import { sayNumber } from '../say-number.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

const ROLES: readonly SeriesRole[] = ['first', 'second', 'third', 'fourth'];

/**
 * The error of a result against the time step, both logarithmic, one line a stepper: its slope is the order of the
 * method. Below the level line the error is less than a tenth of the measurement's uncertainty.
 *
 * Errors of exactly 0 have no place on a logarithmic axis and are left out.
 *
 * @param tables one a stepper, all of `result`
 * @param standardUncertainty of the measurement, SI; null where it is not known
 */
export function stepsFigure(
  tables: readonly StepperTable[],
  result: LabResult,
  standardUncertainty: number | null,
  wording: Wording,
): ChartFigure {
  const phrases = phrasesOf(wording.language);
  const unit = formatUnit(result.unit);
  const quantity = symbolText(result.name);
  const named = plainText(quantity);
  const sentences: string[] = [];
  const marks = tables.flatMap((table, index): Mark[] => {
    const role = ROLES[index % ROLES.length];
    const name = upright(phrases.steppers[table.stepper]);
    const rows = table.rows
      .filter(({ error }) => Number.isFinite(error) && error !== 0)
      .sort((a, b) => a.stepS - b.stepS);
    const x = rows.map(({ stepS }) => stepS);
    const y = rows.map(({ error }) => Math.abs(fromSI(error, result.unit, 'interval')));
    if (rows.length > 0) {
      const last = rows.length - 1;
      const errorAt = (i: number): string => sayNumber(y[i], unit, wording, 2);
      const stepAt = (i: number): string => sayNumber(x[i], 's', wording, null);
      sentences.push(
        phrases.sayStepper({
          name: plainText(name),
          atSmallest: errorAt(0),
          smallest: stepAt(0),
          atLargest: errorAt(last),
          largest: stepAt(last),
        }),
      );
    }
    if (standardUncertainty !== null) {
      const { largestGoodStepS } = table;
      const step = largestGoodStepS === null ? null : sayNumber(largestGoodStepS, 's', wording, null);
      sentences.push(phrases.sayGoodStep({ name: plainText(name), step }));
    }
    const curve: CurveMark = { kind: 'curve', role, name, x, y };
    const points: PointsMark = { kind: 'points', role, name, x, y, ux: null, uy: null };
    return [curve, points];
  });
  if (standardUncertainty !== null && standardUncertainty > 0) {
    marks.push({
      kind: 'rule',
      role: 'quiet',
      name: upright(phrases.tenthOfUncertainty),
      along: 'y',
      at: fromSI(standardUncertainty, result.unit, 'interval') / 10,
      label: [],
    });
  }
  return {
    kind: 'chart',
    name: figureName('steps', result.name),
    title: phrases.stepsTitle(named),
    description: sentences.length === 0 ? phrases.sayNothing() : sentences.join(' '),
    ...wording,
    statement: [],
    x: numberAxis(upright(phrases.step), 's', { kind: 'log' }),
    panels: [
      {
        y: numberAxis(phrases.errorOf(quantity), unit, { kind: 'log' }),
        share: 1,
        marks,
      },
    ],
  };
}
