import {
  type Asked,
  type BatchEngine,
  type BatchResult,
  createBatchEngine,
  drawStatus,
} from '../engine/index.ts';
import type { Readings, SettingValues } from '../instrument/index.ts';
import type { LabInstrument } from './instrument-section.ts';
import type { Lab } from './lab.ts';
import type { QuantityValues } from './quantity-function.ts';

/** Simulates many runs at once, each with its own quantities, where the batch engine can follow them. */
export interface BatchSimulator {
  /**
   * Runs the model for every vector of quantities and hands the readings over in order.
   *
   * @param runs  one vector of all quantities a run, SI
   * @param visit receives the readings of each run; null where the run is for the general way, because friction
   *   sticks, a setting needs the motion itself, or something is wrong that the general way will put into words
   */
  simulate(
    runs: readonly QuantityValues[],
    visit: (index: number, readings: readonly Readings[] | null) => void,
    signal?: { readonly aborted: boolean },
  ): void;
}

/** Runs handed to the engine at a time: enough to fill its lanes, few enough that readings stay in the cache. */
const CHUNK = 64;

/** Readings that a run may have beyond twice those of the run at the author's values. */
const SPARE_READINGS = 64;

/**
 * Makes the batch simulator of a lab.
 *
 * @param usual readings of the run at the author's values, by instrument: they tell how much room to make
 * @returns null where the lab is not a motion, an instrument needs the motion itself, or the model is not for the engine
 */
export function createBatchSimulator(lab: Lab, usual: readonly Readings[]): BatchSimulator | null {
  if (lab.model.kind !== 'motion') return null;
  const looks = lab.instruments.map(lookOf);
  const asked: Asked[] = [];
  for (const [index, look] of looks.entries()) {
    if (look === null) return null;
    const count =
      usual.find((readings) => readings.instrument === look.instrument.name)?.columns[0]?.values.length ?? 0;
    asked.push(askFor(look, lab.quantities.all.length + 2 * index, 2 * count + SPARE_READINGS));
  }
  const engine = createBatchEngine(lab.model.model, asked, { extraColumns: 2 * looks.length });
  if (!engine.ok) return null;
  return makeSimulator(
    engine.value,
    looks.filter((look) => look !== null),
    asked,
  );
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

function askFor({ reading, signal }: Look, column: number, most: number): Asked {
  const first = { column };
  const second = { column: column + 1 };
  return reading.series === 'crossings'
    ? { kind: 'crossings', signal, spacing: first, offset: second, most }
    : { kind: 'samples', signal, start: first, interval: second, most };
}

function makeSimulator(engine: BatchEngine, looks: readonly Look[], asked: readonly Asked[]): BatchSimulator {
  const { rowLength } = engine;
  const rows = new Float64Array(CHUNK * rowLength);
  const result = engine.makeResult(CHUNK);
  const settings: (readonly SettingValues[] | null)[] = new Array(CHUNK).fill(null);

  /** Writes a run into its row; null where a setting needs the motion itself. */
  const load = (values: QuantityValues, place: number): readonly SettingValues[] | null => {
    const from = place * rowLength;
    rows.set(values, from);
    const ofRun: SettingValues[] = [];
    for (const [index, { instrument, reading }] of looks.entries()) {
      const own = instrument.settings(values);
      const numbers = reading.numbers(own);
      if (numbers === null) return null;
      rows.set(numbers, from + values.length + 2 * index);
      ofRun.push(own);
    }
    return ofRun;
  };

  return {
    simulate(runs, visit, signal) {
      for (let from = 0; from < runs.length; from += CHUNK) {
        const count = Math.min(CHUNK, runs.length - from);
        for (let place = 0; place < count; place++) settings[place] = load(runs[from + place], place);
        const done = engine.run(rows, count, result, signal);
        for (let place = 0; place < done; place++) {
          visit(from + place, readingsOf(result, place, settings[place] ?? null, looks, asked));
        }
        if (done < count) return;
      }
    },
  };
}

function readingsOf(
  result: BatchResult,
  place: number,
  settings: readonly SettingValues[] | null,
  looks: readonly Look[],
  asked: readonly Asked[],
): readonly Readings[] | null {
  if (settings === null || result.status[place] !== drawStatus.ok) return null;
  return looks.map(({ instrument, reading }, index): Readings => {
    const { count, values } = result.series[index];
    const start = place * asked[index].most;
    const series = values.slice(start, start + count[place]);
    return { ...reading.readings(series, settings[index], instrument.shape), instrument: instrument.name };
  });
}
