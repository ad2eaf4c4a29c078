import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { PreparedReduction, ReductionContext } from '../reduction/index.ts';
import { acrossRunsSteps, prepareReduction } from '../reduction/index.ts';
import type { LabDocument, Path } from './document.ts';
import { readSetting, readSettings, type Setting } from './effect-section.ts';
import type { StationsForm } from './form.ts';
import { baseQuantitiesBehind, quantityNames } from './quantity-function.ts';
import { type BaseQuantity, type Quantities, type Quantity, unknownQuantity } from './quantity-section.ts';
import { readSteps } from './reduction-section.ts';
import { type LabResult, readResults } from './result-section.ts';
import type { Surroundings } from './surroundings.ts';

/** One student group's place, with its own values. */
export interface Station {
  readonly name: string;
  readonly set: readonly Setting[];
  readonly place: Place;
}

/** What a station's value of one quantity is drawn from, SI. */
export type DrawnFrom =
  | { readonly kind: 'list'; readonly quantity: BaseQuantity; readonly values: readonly number[] }
  | {
      readonly kind: 'range';
      readonly quantity: BaseQuantity;
      readonly from: number;
      readonly to: number;
      /** Null where the author leaves it to the program. */
      readonly step: number | null;
    };

/** Stations whose values are drawn. */
export interface DrawnStations {
  readonly groups: number;
  readonly seed: number;
  readonly from: readonly DrawnFrom[];
}

/** What the stations find together: steps on a table with one row a station. */
export interface Pooling {
  /** Its columns are the lab's results and the quantities in `varied`. */
  readonly steps: PreparedReduction;
  readonly varied: readonly Quantity[];
  readonly results: readonly LabResult[];
  /** Indices of base quantities whose error all stations share. */
  readonly common: ReadonlySet<number>;
  readonly place: Place;
}

export interface Stations {
  readonly listed: readonly Station[];
  readonly drawn: DrawnStations | null;
  readonly pooled: Pooling | null;
}

/** Stations drawn where the author does not say how many. */
const USUAL_GROUPS = 8;

/**
 * Reads the stations: those that are listed, those to be drawn, and what they find together.
 *
 * @param results null where the lab's results have problems of their own; then nothing is said of pooling
 */
export function readStations(
  form: StationsForm,
  results: readonly LabResult[] | null,
  around: Surroundings,
): Outcome<Stations> {
  const { document, quantities } = around;
  const problems: Problem[] = [];
  const collect = <T>(outcome: Outcome<T>): T | null => {
    if (outcome.ok) return outcome.value;
    problems.push(...outcome.problems);
    return null;
  };
  const { drawn: drawnForm, pooled: pooledForm, ...listedForms } = form;
  const listed = Object.entries(listedForms).flatMap(([name, values]): Station[] => {
    const path: Path = ['stations', name];
    const place = document.placeOfKey(path);
    if (Object.keys(values).length === 0) {
      problems.push(
        problem(
          'station-without-values',
          place,
          `The station "${name}" sets no value, so it would be like the lab itself.`,
          'Give it a quantity and a value, such as { L: 1.2 m }.',
        ),
      );
      return [];
    }
    const set = collect(readSettings(values, path, quantities, document, path.join(' → ')));
    return set === null ? [] : [{ name, set, place }];
  });
  const drawn = drawnForm === undefined ? null : collect(readDrawn(drawnForm, quantities, document));
  const pooled =
    pooledForm === undefined || results === null
      ? null
      : collect(readPooling(pooledForm, symbolsSet(form), results, around));
  return problems.length > 0 ? fail(...problems) : succeed({ listed, drawn, pooled });
}

function readDrawn(
  form: NonNullable<StationsForm['drawn']>,
  quantities: Quantities,
  document: LabDocument,
): Outcome<DrawnStations> {
  const problems: Problem[] = [];
  const from = Object.entries(form.values).flatMap(([symbol, choice]): DrawnFrom[] => {
    const path: Path = ['stations', 'drawn', 'values', symbol];
    const valueAt = (written: string | number, at: Path): Setting | null => {
      const place = document.placeOfKey(path);
      const read = readSetting(symbol, String(written), quantities, place, document.originOf(at), 'drawn');
      if (!read.ok) problems.push(...read.problems);
      return read.ok ? read.value : null;
    };
    if (Array.isArray(choice)) {
      const values = choice.map((written, index) => valueAt(written, [...path, index]));
      const settings = values.filter((setting) => setting !== null);
      const [first] = settings;
      if (first === undefined || settings.length < values.length) return [];
      return [{ kind: 'list', quantity: first.quantity, values: settings.map(({ value }) => value) }];
    }
    const least = valueAt(choice.from, [...path, 'from']);
    const greatest = valueAt(choice.to, [...path, 'to']);
    const step = choice.step === undefined ? null : valueAt(choice.step, [...path, 'step']);
    if (least === null || greatest === null || (choice.step !== undefined && step === null)) return [];
    const wrong =
      least.value >= greatest.value
        ? `The range of ${symbol} goes from ${choice.from} to ${choice.to}; "to" must lie above "from".`
        : step !== null && !(step.value > 0 && step.value <= greatest.value - least.value)
          ? `The step of ${symbol} is ${choice.step}; it must be above 0 and within the range.`
          : null;
    if (wrong !== null) {
      problems.push(problem('wrong-range', document.placeOf(path), wrong));
      return [];
    }
    return [
      {
        kind: 'range',
        quantity: least.quantity,
        from: least.value,
        to: greatest.value,
        step: step?.value ?? null,
      },
    ];
  });
  if (problems.length === 0 && from.length === 0) {
    problems.push(
      problem(
        'station-without-values',
        document.placeOfKey(['stations', 'drawn']),
        'Stations are to be drawn, but no quantity is named whose value is drawn.',
        'For example: values: { L: { from: 0.8 m, to: 1.6 m } }',
      ),
    );
  }
  if (problems.length > 0) return fail(...problems);
  return succeed({ groups: form.groups ?? USUAL_GROUPS, seed: form.seed ?? 1, from });
}

/** Every symbol that some station sets. */
function symbolsSet({ drawn, pooled: _pooled, ...listed }: StationsForm): ReadonlySet<string> {
  return new Set([
    ...Object.values(listed).flatMap((values) => Object.keys(values)),
    ...Object.keys(drawn?.values ?? {}),
  ]);
}

function readPooling(
  form: NonNullable<StationsForm['pooled']>,
  set: ReadonlySet<string>,
  ofStations: readonly LabResult[],
  around: Surroundings,
): Outcome<Pooling> {
  const { document, quantities, tables } = around;
  const path: Path = ['stations', 'pooled'];
  if (set.size === 0) {
    return fail(
      problem(
        'pooled-without-stations',
        document.placeOfKey(path),
        'Results are to be pooled, but there are no stations.',
        'List stations, or let them be drawn.',
      ),
    );
  }
  const varied = quantities.all.filter(({ name }) =>
    [...baseQuantitiesBehind([name], quantities)].some((index) =>
      set.has(quantities.base[index]?.name ?? ''),
    ),
  );
  const rows = { words: 'the table of stations', windows: [] };
  const columns = new Map([
    ...varied.map(({ name, dimension }) => [name, { dimension, rows }] as const),
    ...ofStations.map(({ name, unit }) => [name, { dimension: unit.dimension, rows }] as const),
  ]);
  const context: ReductionContext = {
    quantities: quantityNames(quantities),
    dimensionOfQuantity: (name) => (columns.has(name) ? undefined : quantities.byName.get(name)?.dimension),
    tables,
    instruments: new Map(),
    columns,
    scalars: new Map(),
    unsure: new Set(),
  };
  const given = readSteps(form['across stations'], [...path, 'across stations'], document);
  if (!given.ok) return given;
  const steps = prepareReduction(given.value, acrossRunsSteps, context);
  if (!steps.ok) return steps;
  const reduction = { eachRun: { scalars: new Map() }, acrossRuns: steps.value };
  const results = readResults(form.results, reduction, around, [...path, 'results']);
  if (!results.ok) return results;
  const shared = form['same everywhere'];
  const unknown = (shared ?? []).flatMap((name, index) =>
    quantities.byName.has(name)
      ? []
      : [unknownQuantity(name, quantities, document.placeOf([...path, 'same everywhere', index]))],
  );
  if (unknown.length > 0) return fail(...unknown);
  const common = shared ?? results.value.flatMap(({ theory }) => [...(theory?.reads ?? [])]);
  return succeed({
    steps: steps.value,
    varied,
    results: results.value,
    common: baseQuantitiesBehind(common, quantities),
    place: document.placeOfKey(path),
  });
}
