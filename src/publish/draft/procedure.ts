import { namesIn } from '../../expression/index.ts';
import type { BaseQuantity } from '../../lab/index.ts';
import { chosen, formula, type Inlines, joinInlines, list, listInlines, point } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { movesSomething } from './moves-something.ts';
import { uncertaintyOf } from './numbers.ts';
import { type Section, section } from './section.ts';
import { SECOND } from './units.ts';

/** Numbered steps from the first measurement of the apparatus to the last run, from instruments and plan. */
export function draftProcedure(desk: Desk): Section {
  const { phrases, lab, names } = desk;
  const { setup } = phrases;
  const measured = toBeMeasured(desk);
  const lines: Inlines[] = [
    ...(measured.length === 0
      ? []
      : [
          setup.measureFirst(
            listInlines(
              measured.map(({ name }) => names.symbol(name)),
              ', ',
              phrases.documents.and,
            ),
          ),
        ]),
    settingsLine(desk),
    ...lab.instruments.map((instrument) => startLine(desk, instrument.kind.kind, instrument.name)),
    ...runLines(desk),
    joinInlines(setup.save),
    joinInlines(setup.lookAtOnce),
    joinInlines(setup.repeat(lab.plan.repeats, lab.plan.settings.length)),
  ];
  return section('procedure', list(true, lines));
}

/** What the class must know to reduce its readings and to work out theory, and can measure itself. */
export function toBeMeasured({ lab, gathered }: Desk): readonly BaseQuantity[] {
  const { quantities, results } = lab;
  const written = [...gathered.extras.eachRun, ...gathered.extras.acrossRuns].flatMap(({ settings }) =>
    Object.values(settings).flatMap((value) =>
      typeof value === 'string' ? value.split(/[^\p{L}\p{N}_]+/u) : [],
    ),
  );
  const read = new Set([...written, ...results.flatMap(({ theory }) => [...(theory?.reads ?? [])])]);
  for (const { name, expression } of [...quantities.derived].reverse())
    if (read.has(name)) for (const behind of namesIn(expression.tree)) read.add(behind);
  return quantities.base.filter(
    (quantity) => read.has(quantity.name) && uncertaintyOf(quantity) > 0 && !isGravityOfPlace(quantity.from),
  );
}

/** Gravity is computed from the place; a class does not measure it for this. */
function isGravityOfPlace(from: string): boolean {
  return from.startsWith('normal gravity');
}

function settingsLine({ phrases, lab, names }: Desk): Inlines {
  const { settings } = lab.plan;
  const isOne = settings.length === 0 || (settings.length === 1 && settings[0]?.length === 0);
  if (isOne) return joinInlines(phrases.setup.setOnce);
  return phrases.setup.settingsInTurn(
    listInlines(
      settings.map((when) => names.settings(when)),
      '; ',
    ),
  );
}

function startLine({ phrases }: Desk, kind: string, instrument: string): Inlines {
  const ways: Readonly<Record<string, (instrument: string) => Inlines>> = phrases.setup.start;
  return (ways[kind] ?? phrases.setup.startOther)(instrument);
}

function runLines(desk: Desk): readonly Inlines[] {
  const { lab, phrases, names, gathered } = desk;
  const { setup } = phrases;
  if (lab.model.kind === 'relation') {
    const { control, over, controlUnit: unit } = lab.model.relation;
    const values = listInlines(
      [...over].map((value) => chosen(value, unit)),
      ', ',
    );
    return [setup.readAt(names.symbol(control), values)];
  }
  if (lab.model.kind !== 'motion') return [];
  const simulated = gathered.pipeline.simulate(gathered.pipeline.values(gathered.pipeline.nominal));
  const motion = simulated.ok ? simulated.value.motion : null;
  const starts = startOf(desk);
  return [
    beginLine(desk, starts),
    ...(motion === null
      ? []
      : [
          motion.stop === null
            ? setup.lasts(point(motion.endS - motion.startS, 0, SECOND, 2))
            : setup.endsWhen(motion.stop),
        ]),
  ];
}

/** Something that moves is let go; a voltage or a temperature is brought to its start. */
function beginLine({ lab, phrases: { setup } }: Desk, starts: Inlines): Inlines {
  if (movesSomething(lab.model)) {
    return starts.length === 0 ? joinInlines(setup.letGoPlain) : setup.letGo(starts);
  }
  return starts.length === 0 ? joinInlines(setup.beginPlain) : setup.beginAt(starts);
}

/** 'x = x_0': the start of each state that a quantity gives; what starts at nothing goes without saying. */
function startOf({ gathered, names }: Desk): Inlines {
  const parts = Object.entries(gathered.extras.start).flatMap(([state, written]): Inlines[] => {
    const set = names.expression(written);
    return set.length === 1 && set[0]?.kind === 'formula' && set[0].tree.kind !== 'number'
      ? [joinInlines(names.symbol(state), '\u00a0=\u00a0', formula(set[0].tree))]
      : [];
  });
  return listInlines(parts, ', ');
}
