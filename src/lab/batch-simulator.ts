import {
  type Asked,
  type BatchEngine,
  type BatchResult,
  createBatchEngine,
  drawStatus,
  type GivenColumn,
  type RowProgram,
} from '../engine/index.ts';
import { namesIn, nodesOf, type Tree } from '../expression/index.ts';
import type { LanesSeries, Readings } from '../instrument/index.ts';
import type { LabInstrument } from './instrument-section.ts';
import type { Lab } from './lab.ts';
import { baseQuantitiesBehind, type QuantityValues } from './quantity-function.ts';
import type { BaseQuantity } from './quantity-section.ts';

/** Simulates many runs at once, each with its own quantities, where the batch engine can follow them. */
export interface BatchSimulator {
  /**
   * Numbers in a row: base quantities first, what is derived from them (which need not be filled in), then those of
   * `asReduced` as the reduction takes them.
   */
  readonly rowLength: number;
  /** Base quantities that differ from run to run, of which the reduction only knows what all runs have in common. */
  readonly asReduced: readonly number[];
  /** Whether the steps of `each run` are followed where the engine has the readings. */
  readonly reduces: boolean;
  /**
   * Runs the model for every row of quantities, and takes the readings through the steps of `each run`.
   *
   * @param rows    runs × `rowLength`, SI
   * @param scalars receives runs × scalars wanted, in SI, for the runs that the engine could follow to the end
   * @param instead is called in order for the others, with their readings where the motion could be followed, so that
   *   their reduction is for the general way; with null where everything is, because friction sticks, a setting needs
   *   the motion itself, or something is wrong that the general way will put into words
   * @returns the number of runs done: fewer than `count` where the signal asks to stop
   */
  run(
    rows: Float64Array,
    count: number,
    scalars: Float64Array,
    instead: (index: number, readings: readonly Readings[] | null) => void,
    signal?: { readonly aborted: boolean },
  ): number;
  /**
   * Takes the readings of a real run through the steps of `each run` with the quantities of many rows.
   *
   * @param reduced receives 1 where the steps could be followed, else 0
   */
  reduce(
    rows: Float64Array,
    count: number,
    readings: readonly Readings[],
    scalars: Float64Array,
    reduced: Uint8Array,
  ): void;
}

/** What a batch simulator is made for. */
export interface BatchNeeds {
  /** Scalars of `each run` that are wanted; null where its steps are for the general way. */
  readonly scalars: readonly string[] | null;
  readonly relativeTolerance?: number;
}

/** Runs handed to the engine at a time: enough to fill its lanes, few enough that readings stay in the cache. */
const CHUNK = 64;

/** Room for the readings of a run, by those of the run at the author's values: some effects, switched off, let it last longer. */
function roomFor(usual: number): number {
  return Math.max(2 * usual + 64, Math.min(8 * usual, 2048));
}

/**
 * Makes the batch simulator of a lab.
 *
 * @param usual readings of the run at the author's values, by instrument: they tell how much room to make
 * @returns null where the lab is not a motion, an instrument needs the motion itself, or the model is not for the engine
 */
export function createBatchSimulator(
  lab: Lab,
  usual: readonly Readings[],
  needs: BatchNeeds,
): BatchSimulator | null {
  if (lab.model.kind !== 'motion') return null;
  const looks: Look[] = [];
  const asked: Asked[] = [];
  const among: Tree[] = [];
  for (const instrument of lab.instruments) {
    const look = lookOf(instrument);
    if (look === null) return null;
    const found = usual.find((readings) => readings.instrument === instrument.name);
    const most = roomFor(found?.columns[0]?.values.length ?? 0);
    asked.push(askFor(look.reading.series(instrument.settingTrees), look.signal, most));
    among.push(...(look.reading.among?.(instrument.settingTrees) ?? []));
    looks.push(look);
  }
  const varied = lab.quantities.base.filter(
    ({ index, eachRun }) => eachRun !== null && lab.influential.has(index),
  );
  const reduction = needs.scalars === null ? null : rowProgramOf(lab, needs.scalars, varied);
  const engine = createBatchEngine(lab.model.model, asked, {
    derived: new Map(lab.quantities.derived.map(({ name, expression }) => [name, expression.tree])),
    among,
    extraColumns: varied.length,
    ...(reduction !== null && { reduction }),
    ...(needs.relativeTolerance !== undefined && { relativeTolerance: needs.relativeTolerance }),
  });
  const asReduced = varied.map(({ index }) => index);
  return engine.ok ? makeSimulator(lab, engine.value, looks, asked, reduction, asReduced) : null;
}

/** An instrument and the signal that it looks at, where its readings can come from the engine. */
interface Look {
  readonly instrument: LabInstrument;
  readonly signal: number;
  readonly reading: NonNullable<LabInstrument['kind']['onLanes']>;
}

function lookOf(instrument: LabInstrument): Look | null {
  const reading = instrument.kind.onLanes;
  const [signal, ...more] = instrument.signals;
  if (reading === undefined || signal === undefined || more.length > 0) return null;
  return { instrument, signal: signal.index, reading };
}

function askFor(series: LanesSeries, signal: number, most: number): Asked {
  switch (series.kind) {
    case 'crossings': {
      const [spacing, offset] = [{ tree: series.spacing }, { tree: series.offset }];
      return { kind: 'crossings', signal, spacing, offset, most };
    }
    case 'samples': {
      const mean = series.over === undefined ? {} : { over: { tree: series.over } };
      const [start, interval] = [{ tree: series.start }, { tree: series.interval }];
      return { kind: 'samples', signal, start, interval, most, ...mean };
    }
    case 'passages':
      return { kind: 'passages', signal, levels: series.levels.map((tree) => ({ tree })), most };
  }
}

/** The steps of `each run` for the engine; null where one of them is only for the general way. */
function rowProgramOf(
  lab: Lab,
  scalars: readonly string[],
  varied: readonly BaseQuantity[],
): RowProgram | null {
  const steps = lab.eachRun.steps.map(({ onRows }) => onRows);
  if (steps.some((step) => step === undefined)) return null;
  const program = {
    asked: lab.instruments.map(({ name }) => name),
    steps: steps.flatMap((step) => step ?? []),
    takes: new Map(varied.map(({ name }, i) => [name, lab.quantities.all.length + i])),
    gives: scalars,
  };
  return varied.length === 0 || takesApart(lab, program, varied) ? program : null;
}

/**
 * Whether what a run has and what its reduction takes it for can be told apart in the engine: samples are made of
 * readings by the same settings that the reduction undoes, and integrals and tables are worked out once for both.
 */
function takesApart(lab: Lab, { steps }: RowProgram, varied: readonly BaseQuantity[]): boolean {
  const differs = new Set(varied.map(({ index }) => index));
  const readsVaried = (names: Iterable<string>): boolean =>
    [...baseQuantitiesBehind(names, lab.quantities)].some((index) => differs.has(index));
  const isSampled = lab.instruments.some(
    ({ kind, settingTrees, quantitiesRead }) =>
      kind.onLanes?.series(settingTrees).kind === 'samples' && readsVaried(quantitiesRead),
  );
  const trees = [
    ...lab.quantities.derived.map(({ expression }) => expression.tree),
    ...steps.flatMap((step) => Object.values(step).filter(isTree)),
  ];
  return !isSampled && !trees.some((tree) => isForHost(tree) && readsVaried(namesIn(tree)));
}

function isTree(value: unknown): value is Tree {
  return typeof value === 'object' && value !== null && 'kind' in value && 'span' in value;
}

function isForHost(tree: Tree): boolean {
  return nodesOf(tree).some(
    (node) => node.kind === 'call' && ['integrate', 'interpolate', 'd'].includes(node.name),
  );
}

function makeSimulator(
  lab: Lab,
  engine: BatchEngine,
  looks: readonly Look[],
  asked: readonly Asked[],
  reduction: RowProgram | null,
  asReduced: readonly number[],
): BatchSimulator {
  const { rowLength } = engine;
  const width = reduction?.gives.length ?? 0;
  const result = engine.makeResult(CHUNK);
  const values: QuantityValues = new Float64Array(rowLength);
  return {
    rowLength,
    asReduced,
    reduces: reduction !== null,
    run(rows, count, scalars, instead, signal) {
      for (let from = 0; from < count; from += CHUNK) {
        const wanted = Math.min(CHUNK, count - from);
        const chunk = rows.subarray(from * rowLength, (from + wanted) * rowLength);
        const done = engine.run(chunk, wanted, result, signal);
        scalars.set(result.scalars.subarray(0, done * width), from * width);
        for (let place = 0; place < done; place++) {
          if (result.reduced[place] === 1) continue;
          if (result.status[place] !== drawStatus.ok) {
            instead(from + place, null);
            continue;
          }
          values.set(chunk.subarray(place * rowLength, (place + 1) * rowLength));
          lab.derive(values);
          instead(from + place, readingsOf(result, place, values, looks, asked));
        }
        if (done < wanted) return from + done;
      }
      return count;
    },
    reduce(rows, count, readings, scalars, reduced) {
      const series = reduction === null ? null : rawSeries(looks, readings);
      if (series === null) reduced.fill(0, 0, count);
      else {
        const given = ({ of, column }: GivenColumn) => rawColumn(readings, of, column);
        engine.reduce(rows, count, series, given, scalars, reduced);
      }
    },
  };
}

/** What the engine would have found in place of real readings; null where they are not of that form. */
function rawSeries(looks: readonly Look[], readings: readonly Readings[]): readonly Float64Array[] | null {
  const series: Float64Array[] = [];
  for (const { instrument } of looks) {
    const column = rawColumn(readings, instrument.name, instrument.kind.mainColumn);
    if (column === undefined) return null;
    series.push(column);
  }
  return series;
}

function rawColumn(
  readings: readonly Readings[],
  instrument: string,
  column: string,
): Float64Array | undefined {
  const own = readings.find((one) => one.instrument === instrument);
  return own?.columns.find(({ name }) => name === column)?.values;
}

function readingsOf(
  result: BatchResult,
  place: number,
  values: QuantityValues,
  looks: readonly Look[],
  asked: readonly Asked[],
): readonly Readings[] {
  return looks.map(({ instrument, reading }, index): Readings => {
    const { count, values: found } = result.series[index];
    const start = place * asked[index].most;
    const series = found.slice(start, start + count[place]);
    const settings = instrument.settings(values);
    return { ...reading.readings(series, settings, instrument.shape), instrument: instrument.name };
  });
}
