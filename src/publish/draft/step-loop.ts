import { coherentUnit } from '../../quantity/index.ts';
import {
  type Block,
  chosen,
  formula,
  type Inlines,
  joinInlines,
  list,
  paragraph,
} from '../document/index.ts';
import type { HandState, HandSteps } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { bareNumber, headWithUnit } from './table-parts.ts';
import { SECOND } from './units.ts';

/** The step loop in plain words, the first steps as a table, and how short the steps must be for a result. */
export function draftStepLoop(desk: Desk): readonly Block[] {
  const { handSteps } = desk.gathered;
  if (handSteps === null) return [];
  const { background } = desk.phrases;
  return [
    paragraph(background.stepIntroduction),
    list(true, loopLines(desk, handSteps)),
    stepTable(desk, handSteps),
    paragraph(background.tableIsRough, ...goodSteps(desk)),
  ];
}

function loopLines(desk: Desk, { states }: HandSteps): readonly Inlines[] {
  const { phrases, lab, names } = desk;
  const { background } = phrases;
  const speeds = states.filter(({ isPlace }) => !isPlace);
  const places = states.filter(({ isPlace }) => isPlace);
  const jumps = lab.model.kind === 'motion' ? lab.model.jumps : [];
  const stops = lab.model.kind === 'motion' ? stopNames(desk) : [];
  return [
    ...speeds.map((state) => newFromOld(desk, state)),
    ...places.map(({ name, rate }) => background.withNew(names.symbol(name), formula(rate))),
    ...jumps.flatMap(({ name, sets }) =>
      sets.map(({ name: state, expression }) =>
        background.jumps(name, names.symbol(state), formula(expression.tree)),
      ),
    ),
    joinInlines(background.timeGoesOn),
    stops.length === 0
      ? joinInlines(background.goOnToEnd)
      : background.goOnUntil(joinInlines(stops.join(phrases.documents.or))),
  ];
}

function newFromOld({ phrases, names }: Desk, { name, rate }: HandState): Inlines {
  const isSum = rate.kind === 'arithmetic' && (rate.operator === '+' || rate.operator === '-');
  const isNegative = rate.kind === 'negate';
  return phrases.background.newFromOld(names.symbol(name), formula(rate), isSum || isNegative);
}

/** Names of what ends the motion, as the lab has them. */
function stopNames({ gathered }: Desk): readonly string[] {
  const simulated = gathered.pipeline.simulate(gathered.pipeline.values(gathered.pipeline.nominal));
  const stop = simulated.ok ? simulated.value.motion?.stop : null;
  return stop === null || stop === undefined ? [] : [stop];
}

function stepTable(desk: Desk, { stepS, states, rows }: HandSteps): Block {
  const { phrases, names } = desk;
  const units = states.map(({ dimension }) => coherentUnit(dimension));
  // As many decimals in every row as give the largest value three digits.
  const decimals = states.map((_, index) =>
    decimalsOf(Math.max(...rows.map(({ values }) => Math.abs(values[index] ?? 0))), 3),
  );
  return {
    kind: 'table',
    caption: phrases.background.stepTable(chosen(stepS, SECOND)),
    head: [
      headWithUnit([names.symbol('t')], SECOND),
      ...states.map(({ name }, index) => headWithUnit([names.symbol(name)], units[index] ?? SECOND)),
    ],
    rows: rows.map(({ t, values }) => [
      [bareNumber({ ...chosen(t, SECOND), decimals: decimalsOf(stepS, 1) })],
      ...values.map((value, index) => [
        bareNumber({ ...chosen(value, units[index] ?? SECOND), decimals: decimals[index] ?? 3 }),
      ]),
    ]),
    align: ['number', ...states.map((): 'number' => 'number')],
    emptyRows: 0,
  };
}

/** How many decimals give a number so many significant digits. */
function decimalsOf(value: number, digits: number): number {
  if (!(value > 0)) return 0;
  return Math.max(0, digits - 1 - Math.floor(Math.log10(value * (1 + 1e-9))));
}

function goodSteps({ gathered, phrases, names }: Desk): Inlines {
  const tables = gathered.steps.filter(
    ({ stepper, largestGoodStepS }) => stepper === 'semi-implicit-euler' && largestGoodStepS !== null,
  );
  const [first] = tables;
  if (first?.largestGoodStepS === undefined || first.largestGoodStepS === null) return [];
  return joinInlines(
    ' ',
    ...phrases.background.goodStep(names.symbol(first.result), chosen(first.largestGoodStepS, SECOND)),
  );
}
