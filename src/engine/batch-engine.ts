import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { defaultMaxTimeS, defaultRelativeTolerance } from '../evolve/index.ts';
import { compileFunction, type Tree } from '../expression/index.ts';
import type { EvolutionProgram, Model } from '../model/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { GraphTooLarge, instantiate, type ModuleMemory, makeMemory } from '../wasm/index.ts';
import { type Asked, type BatchResult, drawStatus, type PerDraw } from './asked.ts';
import { buildKernel, type KernelLayout, mostAsked, reduceName, runName } from './build-kernel.ts';
import { Kernel, type KernelRows } from './kernel.ts';
import { NotOnLanes } from './lower-tree.ts';
import type { GivenColumn, RowProgram } from './row-program.ts';
import type { Lanes } from './write-block.ts';

export interface BatchOptions {
  /** Draws side by side; default 4. The results are the same to the bit for every choice. */
  readonly lanes?: Lanes;
  /** As for the evolution; default 1e-9. */
  readonly relativeTolerance?: number;
  /** As for the evolution; default: follows the size of each state. */
  readonly absoluteTolerance?: number;
  /** Steps that may be tried for a draw. Default 20 000: the general evolution can do more. */
  readonly maxSteps?: number;
  /** Time of the motion, s, within which a stop must come. Default 1e6. */
  readonly maxTimeS?: number;
  /** Columns of a draw's row beyond the parameters, for settings that differ from draw to draw. Default 0. */
  readonly extraColumns?: number;
  /** Parameters that are worked out from those before them, in the order of need; a row's number for them is not read. */
  readonly derived?: ReadonlyMap<string, Tree>;
  /** Conditions on parameters: a draw for which one is not true is marked `general`. */
  readonly among?: readonly Tree[];
  /** What is made of the readings of each draw. */
  readonly reduction?: RowProgram;
}

/** Many trajectories of one model, each with its own parameters, in WebAssembly. */
export interface BatchEngine {
  /** The module: depends on nothing but the model, what is asked and the options. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** SHA-256 of the bytes as hexadecimal text, as a key of a cache; worked out when asked for. */
  readonly hash: string;
  /** Numbers in a row: parameters and extra columns. */
  readonly rowLength: number;
  /** Room for the results of up to n draws. */
  makeResult(n: number): BatchResult;
  /**
   * Follows n draws and writes what became of each.
   *
   * @param rows n × `rowLength`, SI: parameters in the order of `model.parameterNames`, then extra columns
   * @param signal looked at every few dozen draws
   * @returns the number of draws done: n, or fewer where the signal says to stop
   */
  run(rows: Float64Array, n: number, out: BatchResult, signal?: { readonly aborted: boolean }): number;
  /**
   * Takes readings that are given through the row program, with the parameters of n rows.
   *
   * @param series the readings of each thing asked, the same for every row
   * @param given  gives the columns that stand beside them; undefined where there is none of that name
   * @param scalars receives n × the scalars that the row program gives
   * @param reduced receives 1 where the program could be followed, else 0
   */
  reduce(
    rows: Float64Array,
    n: number,
    series: readonly Float64Array[],
    given: (column: GivenColumn) => Float64Array | undefined,
    scalars: Float64Array,
    reduced: Uint8Array,
  ): void;
}

/** Groups of lanes between two looks at the signal. */
const groupsPerLook = 16;
/** Most bytes for the readings of the draws at work. */
const mostReadingBytes = 1 << 26;

/**
 * Makes an engine for a model: its checked trees become machine code for several draws at a time, with the order-8
 * pair, step control and tolerances of the evolution.
 *
 * Within a draw, stops, `holds while` and switches are located as in the evolution; where friction sticks, or a
 * branch needs more thought, the draw is marked `general` and is for the general evolution. Crossings and the end
 * are taken from the motion inside a step, so they agree with the evolution within the tolerance.
 *
 * @param asked what is wanted of each trajectory besides its end
 * @returns fails with `not-in-engine` where states jump, where the model holds an integral or table of something that moves, where a
 *   signal to be counted has branches of its own, and where it is too large
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.5, II.6
 */
export function createBatchEngine(
  model: Model,
  asked: readonly Asked[],
  options: BatchOptions = {},
): Outcome<BatchEngine> {
  const { program } = model;
  const settings = {
    lanes: options.lanes ?? 4,
    relativeTolerance: options.relativeTolerance ?? defaultRelativeTolerance,
    absoluteTolerance: options.absoluteTolerance,
    maxSteps: options.maxSteps ?? 20_000,
    maxTimeS: options.maxTimeS ?? defaultMaxTimeS,
  };
  const columns = options.extraColumns ?? 0;
  if (program.jumps.length > 0) return fail(notInEngine('its states jump'));
  const rows = {
    extraColumns: columns,
    derived: options.derived ?? new Map<string, Tree>(),
    among: options.among ?? [],
    reduction: options.reduction ?? null,
  };
  checkAsked(program, asked, program.parameterCount + columns);
  const bytesAsked = asked.reduce((sum, { most }) => sum + 8 * (most + 1) * settings.lanes, 0);
  if (asked.length > mostAsked || bytesAsked > mostReadingBytes) {
    return fail(notInEngine('more readings are asked than its memory is made for'));
  }
  try {
    const kernel = new Kernel(program, asked, rows, settings);
    for (const wanted of asked) {
      const needsSmooth = wanted.kind !== 'samples' || wanted.over !== undefined;
      if (needsSmooth && !kernel.isSmooth(wanted.signal)) {
        return fail(
          notInEngine(`the signal ${model.signalNames[wanted.signal]} bends or jumps within steps`),
        );
      }
    }
    const { bytes, layout } = buildKernel(kernel);
    const memory = makeMemory(layout.pages);
    const functionNamed = instantiate(bytes, { memory });
    const functions = {
      run: functionNamed(runName),
      reduce: rows.reduction === null ? null : functionNamed(reduceName),
    };
    return succeed(makeEngine(program, asked, rows, settings.lanes, bytes, layout, memory, functions));
  } catch (error) {
    if (error instanceof NotOnLanes) return fail(notInEngine(`it holds ${error.message}`));
    if (error instanceof GraphTooLarge) return fail(notInEngine('its equations are too large'));
    throw error;
  }
}

function notInEngine(why: string): Problem {
  return problem(
    'not-in-engine',
    { step: 'batch engine' },
    `The model cannot be followed many draws at a time: ${why}. The general evolution follows it one by one.`,
  );
}

function checkAsked(program: EvolutionProgram, asked: readonly Asked[], columns: number): void {
  const check = (value: PerDraw): void => {
    if (typeof value === 'number' || 'tree' in value) return;
    if (!(value.column >= 0 && value.column < columns)) {
      throw new RangeError(`A draw's row has ${columns} columns; column ${value.column} is asked for.`);
    }
  };
  for (const wanted of asked) {
    if (!(wanted.signal >= 0 && wanted.signal < program.signals.length)) {
      throw new RangeError(
        `The model has ${program.signals.length} signals, none with index ${wanted.signal}.`,
      );
    }
    if (!(Number.isInteger(wanted.most) && wanted.most >= 0)) {
      throw new RangeError(`At most ${wanted.most} readings are asked for; give a whole number.`);
    }
    if (wanted.kind === 'crossings') {
      check(wanted.spacing);
      check(wanted.offset);
    } else if (wanted.kind === 'passages') {
      for (const level of wanted.levels) check(level);
    } else {
      check(wanted.start);
      check(wanted.interval);
      if (wanted.over !== undefined) check(wanted.over);
    }
  }
}

function makeEngine(
  program: EvolutionProgram,
  asked: readonly Asked[],
  { extraColumns, derived, reduction }: KernelRows,
  lanes: Lanes,
  bytes: Uint8Array<ArrayBuffer>,
  layout: KernelLayout,
  memory: ModuleMemory,
  functions: { readonly run: () => void; readonly reduce: (() => void) | null },
): BatchEngine {
  const numbers = new Float64Array(memory.buffer);
  const cursors = new Int32Array(memory.buffer);
  const rowLength = program.parameterCount + extraColumns;
  const scalarCount = reduction?.gives.length ?? 0;
  const stateCount = program.stateNames.length;
  const holdCount = program.holdsWhile.length;
  const inputs = new Float64Array(program.inputs.length);
  const hostValues = new Float64Array(layout.byHost.length);
  const byHost =
    layout.byHost.length === 0
      ? null
      : compileFunction(
          layout.byHost.map(({ tree }) => tree),
          program.trees.names,
          { tables: program.trees.tables },
        );
  const derive = byHost === null ? [] : hostsDerived(program, derived);
  const places = layout.row.map((address) => address / 8);
  const cells = layout.series.map(({ begin }) => begin / 8);

  const loadParameters = (rows: Float64Array, draw: number, lane: number): void => {
    const from = draw * rowLength;
    for (let i = 0; i < rowLength; i++) numbers[places[i] + lane] = rows[from + i];
    if (byHost !== null) {
      for (let i = 0; i < program.parameterCount; i++) inputs[program.inputs.parameters + i] = rows[from + i];
      for (const { place, evaluate } of derive) evaluate(inputs, inputs.subarray(place, place + 1));
      byHost(inputs, hostValues);
      for (const [index, { address }] of layout.byHost.entries())
        numbers[address / 8 + lane] = hostValues[index];
    }
  };
  const loadDraw = (rows: Float64Array, draw: number, lane: number): void => {
    loadParameters(rows, draw, lane);
    numbers[layout.isReal / 8 + lane] = 0;
    for (const { cursors: at, begin } of layout.series) cursors[at / 4 + lane] = begin + 8 * lane;
  };
  const keepScalars = (scalars: Float64Array, reduced: Uint8Array, draw: number, lane: number): boolean => {
    if (layout.reduced === null) return false;
    const isReduced = numbers[layout.reduced / 8 + lane] === 1;
    reduced[draw] = isReduced ? 1 : 0;
    for (let i = 0; i < scalarCount; i++) {
      scalars[draw * scalarCount + i] = numbers[layout.scalars[i] / 8 + lane];
    }
    return isReduced;
  };

  const keepDraw = (out: BatchResult, draw: number, lane: number): void => {
    out.status[draw] = numbers[layout.status / 8 + lane];
    out.stop[draw] = numbers[layout.stop / 8 + lane];
    out.endS[draw] = numbers[layout.endS / 8 + lane];
    if (keepScalars(out.scalars, out.reduced, draw, lane)) return;
    for (let i = 0; i < stateCount; i++) {
      out.endState[draw * stateCount + i] = numbers[layout.states[i] / 8 + lane];
    }
    for (let k = 0; k < holdCount; k++) {
      out.failedAt[draw * holdCount + k] = numbers[layout.failedAt[k] / 8 + lane];
      for (let i = 0; i < stateCount; i++) {
        out.failedState[(draw * holdCount + k) * stateCount + i] =
          numbers[layout.failedState[k][i] / 8 + lane];
      }
    }
    for (let k = 0; k < layout.series.length; k++) {
      const count = numbers[layout.series[k].count / 8 + lane];
      const target = out.series[k];
      target.count[draw] = count;
      const from = cells[k] + lane;
      const to = draw * asked[k].most;
      for (let i = 0; i < count; i++) target.values[to + i] = numbers[from + i * lanes];
    }
  };

  return {
    bytes,
    get hash() {
      return bytesToHex(sha256(bytes));
    },
    rowLength,
    makeResult: (n) => ({
      status: new Uint8Array(n).fill(drawStatus.general),
      reduced: new Uint8Array(n),
      scalars: new Float64Array(n * scalarCount),
      endS: new Float64Array(n),
      stop: new Int32Array(n),
      endState: new Float64Array(n * stateCount),
      failedAt: new Float64Array(n * holdCount),
      failedState: new Float64Array(n * holdCount * stateCount),
      series: asked.map(({ most }) => ({ count: new Int32Array(n), values: new Float64Array(n * most) })),
    }),
    run(rows, n, out, signal) {
      if (rows.length < n * rowLength || out.status.length < n) {
        throw new RangeError(
          `${n} draws need ${n * rowLength} numbers and room for ${n} results; ${rows.length} and ${out.status.length} were given.`,
        );
      }
      let groups = 0;
      for (let draw = 0; draw < n; draw += lanes) {
        if (groups++ % groupsPerLook === 0 && signal?.aborted === true) return draw;
        // A group that is not full repeats its first draw.
        for (let lane = 0; lane < lanes; lane++) loadDraw(rows, draw + lane < n ? draw + lane : draw, lane);
        functions.run();
        for (let lane = 0; lane < lanes && draw + lane < n; lane++) keepDraw(out, draw + lane, lane);
      }
      return n;
    },
    reduce(rows, n, series, given, scalars, reduced) {
      const reduceOnly = functions.reduce;
      if (reduceOnly === null) throw new Error('The engine was made without a row program.');
      const fits = series.length === asked.length && series.every(({ length }, k) => length <= asked[k].most);
      const beside = layout.given.map((column) => given(column));
      const areThere = layout.given.every(({ of }, i) => {
        const own = series[reduction?.asked.indexOf(of) ?? -1];
        return own !== undefined && beside[i]?.length === own.length;
      });
      if (!fits || !areThere) {
        reduced.fill(0, 0, n);
        return;
      }
      const load = (values: Float64Array, cell: number): void => {
        for (let i = 0; i < values.length; i++) {
          numbers.fill(values[i], cell + i * lanes, cell + (i + 1) * lanes);
        }
      };
      for (const [k, values] of series.entries()) load(values, cells[k]);
      for (const [i, values] of beside.entries()) {
        if (values !== undefined) load(values, layout.given[i].begin / 8);
      }
      for (let draw = 0; draw < n; draw += lanes) {
        for (let lane = 0; lane < lanes; lane++) {
          loadParameters(rows, draw + lane < n ? draw + lane : draw, lane);
          numbers[layout.status / 8 + lane] = drawStatus.ok;
          numbers[layout.isReal / 8 + lane] = 1;
          for (const [k, values] of series.entries())
            numbers[layout.series[k].count / 8 + lane] = values.length;
        }
        reduceOnly();
        for (let lane = 0; lane < lanes && draw + lane < n; lane++) {
          keepScalars(scalars, reduced, draw + lane, lane);
        }
      }
    },
  };
}

/** The derived parameters, for what the host works out from them; each with its place among the inputs. */
function hostsDerived(program: EvolutionProgram, derived: ReadonlyMap<string, Tree>) {
  const { names, tables } = program.trees;
  return Array.from(derived, ([name, tree]) => ({
    place: names.indexOf(name),
    evaluate: compileFunction([tree], names, { tables }),
  }));
}
