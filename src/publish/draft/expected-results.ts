import type { LabResult } from '../../lab/index.ts';
import {
  type Block,
  type Inlines,
  joinInlines,
  paragraph,
  point,
  rounded,
  type TableBlock,
} from '../document/index.ts';
import type { Expected, Gathered } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { draftEquipmentOutlook } from './equipment-outlook.ts';
import { resultValue, theoryValue } from './numbers.ts';
import { type Section, section } from './section.ts';
import { bareNumber, emptyCell, headWithUnit, tableOf } from './table-parts.ts';

/** What a good measurement gives under each setting, how much single runs scatter, and what was measured. */
export function draftExpected(desk: Desk): Section {
  const { lab, phrases, names, gathered } = desk;
  const { guide } = phrases;
  const bands = gathered.rehearsal.outputs.flatMap(({ output, low, high }): Block[] => {
    if (output.group !== null && output.group !== mainGroupOf(gathered)) return [];
    const { result } = output;
    if (!(high > low)) return [];
    // Two digits of what lies between them, or both ends could print alike.
    const between = (high - low) / 2;
    const ends = [rounded(low, between, result.unit, 2), rounded(high, between, result.unit, 2)] as const;
    return [paragraph(...guide.rehearsedBand(names.symbol(result.name), ...ends))];
  });
  return section(
    'results',
    ...lab.results.map((result) => resultTable(desk, result)),
    paragraph(guide.resultsNote),
    ...bands,
  );
}

/** The planned group whose settings are the lab's own values, else the first. */
export function mainGroupOf(gathered: Gathered): number {
  const own = gathered.rehearsal.groups.findIndex(({ when }) =>
    when.every(({ quantity, value }) => value === quantity.estimate.value),
  );
  return Math.max(own, 0);
}

function resultTable(desk: Desk, result: LabResult): TableBlock {
  const { phrases, names, gathered } = desk;
  const { documents, guide } = phrases;
  const ledgers = gathered.reconciliation.ledgers.filter((ledger) => ledger.result === result);
  const hasMeasured = ledgers.some(({ measured }) => measured !== null);
  const rows =
    result.scope === 'across'
      ? [{ label: '', when: [], expected: gathered.own }]
      : gathered.planned.map(({ group, expected }) => ({ label: group.label, when: group.when, expected }));
  return tableOf(
    guide.resultsCaption(names.result(result)),
    [
      documents.setting,
      headWithUnit(joinInlines(guide.theory), result.unit),
      headWithUnit(joinInlines(guide.full), result.unit),
      headWithUnit(joinInlines(guide.scatter), result.unit),
      ...(hasMeasured ? [headWithUnit(joinInlines(guide.measured(guide.sampleRuns)), result.unit)] : []),
    ],
    ['left', 'number', 'number', 'number', ...(hasMeasured ? (['number'] as const) : [])],
    rows.map(({ label, when, expected }, row): Inlines[] => {
      const found = expected.results.find((candidate) => candidate.result === result);
      const ledger = ledgers.find(({ group }) => group === null || group === label);
      const scatter = gathered.rehearsal.outputs.find(
        ({ output }) => output.result === result && (output.group === null || output.group === row),
      );
      const measured = ledger?.measured ?? null;
      return [
        names.settings(when),
        found === undefined || found.theory === null
          ? emptyCell
          : [bareNumber(theoryValue(result, found.theory, found.full))],
        found === undefined ? emptyCell : [bareNumber(resultValue(result, found.full))],
        scatter === undefined || !Number.isFinite(scatter.singleRun)
          ? emptyCell
          : [bareNumber({ ...point(scatter.singleRun, 0, { ...result.unit, offset: 0 }, 2) })],
        ...(hasMeasured ? [measured === null ? emptyCell : [bareNumber(resultValue(result, measured))]] : []),
      ];
    }),
  );
}

/** Other equipment: what changes, and what the full model then expects. */
export function draftKits(desk: Desk): readonly Section[] {
  const { gathered, phrases, names } = desk;
  const { guide } = phrases;
  if (gathered.kits.length === 0) return [];
  const rows = gathered.kits.map(({ kit, expected }) => ({
    what: joinInlines(...names.words(kit.name), ...(kit.is === '' ? [] : [': ', ...names.words(kit.is)])),
    changes: names.settings(kit.set),
    expected,
  }));
  const own = { what: joinInlines(guide.ownEquipment), changes: [], expected: gathered.own };
  return [
    section(
      'kits',
      ...expectedTables(desk, joinInlines(guide.kitsCaption), [guide.kit, guide.changes], [own, ...rows]),
      ...draftEquipmentOutlook(desk),
    ),
  ];
}

/** Each station with its own values, what it should get and within which band, and what the class finds together. */
export function draftStations(desk: Desk): readonly Section[] {
  const { gathered, phrases, names } = desk;
  const { documents, guide } = phrases;
  if (gathered.stations.length === 0) return [];
  const rows = gathered.stations.map(({ station, expected }) => ({
    what: joinInlines(documents.station(station.name)),
    changes: names.settings(station.set),
    expected,
  }));
  return [
    section(
      'stations',
      ...expectedTables(
        desk,
        joinInlines(guide.stationsCaption),
        [documents.headings.group, documents.setting],
        rows,
        gathered.classroom,
      ),
      ...draftPooled(desk),
    ),
  ];
}

/** What the stations find together. */
function draftPooled({ gathered, phrases, names }: Desk): readonly Block[] {
  const { guide } = phrases;
  return (gathered.classroom?.pooled ?? []).flatMap(({ groups, result, theory, mean, spread }): Block[] => {
    if (!Number.isFinite(mean)) return [];
    const value = point(mean, spread, result.unit);
    return [
      paragraph(
        ...guide.pooled(String(groups), names.result(result), value),
        ...(Number.isFinite(theory) && spread > 0
          ? guide.pooledTheory(rounded(theory, spread, result.unit, 2))
          : []),
      ),
    ];
  });
}

/** Columns of numbers that stand side by side on the narrowest paper, beside what a row is about. */
const MOST_COLUMNS = 6;

interface ExpectedRow {
  readonly what: Inlines;
  readonly changes: Inlines;
  readonly expected: Expected;
}

/** What is expected in each row of every result, in as many tables as their columns need. */
function expectedTables(
  desk: Desk,
  caption: Inlines,
  head: readonly [string, string],
  rows: readonly ExpectedRow[],
  bands: Gathered['classroom'] = null,
): readonly TableBlock[] {
  // What no station finds alone is told of the class.
  const results = desk.lab.results.filter(
    (_, index) => bands === null || bands.stations.some((one) => Number.isFinite(one.results[index]?.mean)),
  );
  const most = bands === null ? MOST_COLUMNS : MOST_COLUMNS / 2;
  const tables = Math.max(1, Math.ceil(results.length / most));
  const each = Math.ceil(results.length / tables);
  return Array.from({ length: tables }, (_, index) => {
    const shown = results.slice(index * each, (index + 1) * each);
    const symbols = shown.flatMap(({ name }, place) => [
      ...(place === 0 ? [': '] : [', ']),
      desk.names.symbol(name),
    ]);
    const words = tables === 1 ? caption : joinInlines(...caption, ...symbols);
    return expectedTable(desk, words, head, rows, shown, bands);
  });
}

function expectedTable(
  { names, phrases }: Desk,
  caption: Inlines,
  head: readonly [string, string],
  rows: readonly ExpectedRow[],
  results: readonly LabResult[],
  bands: Gathered['classroom'],
): TableBlock {
  const { bandHead } = phrases.guide;
  const columns = results.flatMap((result) => [
    headWithUnit([names.symbol(result.name)], result.unit),
    ...(bands === null ? [] : [joinInlines(bandHead)]),
  ]);
  return tableOf(
    caption,
    [...head, ...columns],
    [
      'left',
      'left',
      ...results.flatMap((): ('number' | 'left')[] => (bands === null ? ['number'] : ['number', 'left'])),
    ],
    rows.map(({ what, changes, expected }, row) => [
      what,
      changes,
      ...results.flatMap((result): Inlines[] => {
        const found = expected.results.find((candidate) => candidate.result === result);
        const value = found === undefined ? emptyCell : [bareNumber(resultValue(result, found.full))];
        if (bands === null) return [value];
        const band = bands.stations[row]?.results.find((one) => one.result === result);
        const between = band === undefined ? 0 : (band.high - band.low) / 2;
        return band === undefined || !(between > 0)
          ? [value, emptyCell]
          : [
              value,
              joinInlines(
                bareNumber(rounded(band.low, between, result.unit, 2)),
                ' … ',
                bareNumber(rounded(band.high, between, result.unit, 2)),
              ),
            ];
      }),
    ]),
  );
}
