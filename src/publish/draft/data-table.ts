import type { Lab } from '../../lab/index.ts';
import { parseMagnitude } from '../../quantity/index.ts';
import { type Block, chosen, type Inlines, joinInlines, stated } from '../document/index.ts';
import type { NamedSettings } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { uncertaintyOf } from './numbers.ts';
import { type Section, section } from './section.ts';
import { stringOf } from './step-words.ts';
import { bareNumber, emptyCell, headWithUnit, tableOf } from './table-parts.ts';

type Relation = (Lab['model'] & { readonly kind: 'relation' })['relation'];

/** The table of runs that students fill in: setting, number, results, remarks. */
export function draftData(desk: Desk): Section {
  return section(
    'data',
    ...readingTables(desk),
    runsTable(desk, desk.lab.plan.settings, desk.lab.plan.repeats),
  );
}

/** One row a run under each of the settings; results are left to be filled in. */
export function runsTable(
  { lab, phrases, names }: Desk,
  settings: readonly NamedSettings['set'][],
  repeats: number,
): Block {
  const { documents, setup } = phrases;
  const perRun = lab.results.filter(({ scope }) => scope === 'run');
  const varied = [...new Set(settings.flat().map(({ quantity }) => quantity))];
  const all = settings.length === 0 ? [[]] : settings;
  return tableOf(
    joinInlines(setup.resultsCaption),
    [
      ...varied.map((quantity) => headWithUnit([names.symbol(quantity.name)], quantity.unit)),
      documents.run,
      ...perRun.map((result) => headWithUnit([names.symbol(result.name)], result.unit)),
      setup.remark,
    ],
    [...varied.map((): 'number' => 'number'), 'right', ...perRun.map((): 'number' => 'number'), 'left'],
    all.flatMap((when) =>
      Array.from({ length: Math.max(repeats, 2) }, (_, run): Inlines[] => [
        ...varied.map((quantity): Inlines => {
          const set = when.find((setting) => setting.quantity === quantity);
          const { estimate, unit } = quantity;
          const value = stated(set?.value ?? estimate.value, uncertaintyOf(quantity), unit);
          return [bareNumber(value)];
        }),
        joinInlines(run + 1),
        ...perRun.map(() => emptyCell),
        emptyCell,
      ]),
    ),
  );
}

/** Readings that a person takes by eye or hand are written down on paper, so there is a table for them. */
function readingTables(desk: Desk): readonly Block[] {
  const { lab, phrases } = desk;
  if (lab.model.kind === 'relation') return relationTable(desk, lab.model.relation);
  return lab.instruments
    .filter(({ kind }) => kind.kind === 'ruler' || kind.kind === 'stopwatch')
    .map((instrument): Block => {
      const columns = instrument.kind.rawColumns(instrument.shape);
      const table = tableOf(
        phrases.setup.readingsCaption(instrument.name),
        columns.map(({ name }) => name),
        columns.map((): 'number' => 'number'),
        [],
      );
      return { ...table, emptyRows: 6 };
    });
}

/** What is read at each value of the control, side by side for all scales. */
function relationTable(
  { lab, phrases, names, gathered }: Desk,
  { control, controlUnit: unit, over }: Relation,
): readonly Block[] {
  const scales = lab.instruments.filter(({ kind }) => kind.kind === 'ruler');
  if (scales.length === 0) return [];
  const heads = scales.map((scale) => {
    const division = stringOf(gathered.extras.instruments.get(scale.name)?.division);
    const read = division === null ? null : parseMagnitude(division, 'interval');
    const what = names.words(scale.name);
    return read?.ok === true ? headWithUnit(what, read.value.unit) : what;
  });
  return [
    tableOf(
      joinInlines(phrases.setup.readingsOfRun),
      [headWithUnit([names.symbol(control)], unit), ...heads],
      ['number', ...scales.map((): 'number' => 'number')],
      Array.from(over, (value) => [[bareNumber(chosen(value, unit))], ...scales.map(() => emptyCell)]),
    ),
  ];
}
