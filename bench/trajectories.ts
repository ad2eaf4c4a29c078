import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type Asked, type BatchEngine, createBatchEngine } from '../src/engine/index.ts';
import { order8, rowOf } from '../src/evolve/index.ts';
import { exponentialTerms, sineTerms } from '../src/wasm/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from '../test/evolve/model-from-texts.ts';
import { type Peer, startPeer, works } from './peer-process.ts';

interface Task {
  readonly name: string;
  readonly model: 'chain' | 'pendulum';
  readonly texts: ModelTexts;
  readonly asked: readonly Asked[];
  readonly extra: (row: Float64Array) => readonly number[];
}

const interval = 0.04;
const lastsS = 40;

const tasks: readonly Task[] = [
  {
    name: 'draped chain: to its stop, speed at about 40 times',
    model: 'chain',
    texts: {
      parameters: {
        L: [1.55, 'm'],
        lambda: [0.045, 'kg/m'],
        R: [0.025, 'm'],
        I: [2.2e-6, 'kg m^2'],
        tau: [1.5e-4, 'N m'],
        g: [9.81, 'm/s^2'],
        x_0: [0.02, 'm'],
        c: [1e-3, 'kg/m'],
      },
      states: {
        x: ['x_0', 'v'],
        v: ['0 m/s', '(2*lambda*g*x - tau/R*tanh(v/(0.01*sqrt(g*L))) - c*v^2)/(lambda*L + I/R^2)'],
      },
      stops: { 'the end is near': 'x > 0.45*L' },
      signals: { speed: 'v' },
    },
    asked: [{ kind: 'samples', signal: 0, start: 0, interval, most: 128 }],
    extra: () => [],
  },
  {
    name: `damped pendulum from 2.5 rad: all passings of its lowest point in ${lastsS} s`,
    model: 'pendulum',
    texts: {
      parameters: { l: [0.9, 'm'], g: [9.81, 'm/s^2'], c: [0.05, '1/s'], a: [2.5, ''] },
      states: { theta: ['a', 'omega'], omega: ['0 rad/s', '-g/l*sin(theta) - c*omega'] },
      lasts: `${lastsS} s`,
      signals: { angle: 'theta' },
    },
    asked: [{ kind: 'crossings', signal: 0, spacing: 8, offset: { column: 4 }, most: 128 }],
    extra: (row) => [row[3] / 8],
  },
];

const compilerName = process.env.CC ?? 'cc';
const draws = 256;
const peerDraws = 6;
const rounds = Number(process.env.ROUNDS ?? 31);

/**
 * Runs the engine, a straightforward C port of its algorithm and SciPy in turns; prints ratios of processor time,
 * which a busy machine disturbs less than the time of day.
 */
export async function main(folder: string): Promise<void> {
  const compiler = works(compilerName, ['--version']);
  const python = ['/usr/bin/python3', 'python3'].find((name) => works(name, ['-c', 'import scipy']));
  if (compiler) {
    writeFileSync(join(folder, 'order8.h'), coefficientsInC());
    writeFileSync(join(folder, 'rows.h'), rowsInC());
    compileInC('trajectories', folder, ['-march=native']);
    compileInC('laned', folder, ['-march=native', '-ffp-contract=fast', '-fno-math-errno']);
  } else console.log(`C: skipped, no compiler named ${compilerName} here`);
  if (python === undefined) console.log('SciPy: skipped, not installed here');

  for (const task of tasks) {
    for (const tolerance of [1e-9, 1e-6]) await compare(task, tolerance, folder, compiler, python);
  }
}

function compileInC(name: string, folder: string, options: readonly string[]): void {
  const parts = ['-O3', ...options, '-I', folder, '-o', join(folder, name), resolve(`bench/peers/${name}.c`)];
  const made = spawnSync(compilerName, [...parts, '-lm'], { stdio: 'inherit' });
  if (made.status !== 0) throw new Error(`The peer ${name}.c could not be compiled.`);
}

async function compare(
  task: Task,
  tolerance: number,
  folder: string,
  compiler: boolean,
  python: string | undefined,
): Promise<void> {
  const model = modelOf(task.texts);
  const rows = drawRows(valuesOf(task.texts));
  const plain = Float64Array.from(rows.flatMap((row) => [...row]));
  const full = Float64Array.from(rows.flatMap((row) => [...row, ...task.extra(row)]));
  const rowsFile = join(folder, `${task.model}.bin`);
  writeFileSync(rowsFile, new Uint8Array(plain.buffer));
  const engineWith = (lanes: 1 | 2 | 4, relative: number): BatchEngine =>
    unwrap(
      createBatchEngine(model, task.asked, {
        lanes,
        relativeTolerance: relative,
        absoluteTolerance: 1e-3 * relative,
        extraColumns: task.extra(rows[0]).length,
      }),
    );
  const truth = lastNumbers(engineWith(4, 1e-13), full);
  const contenders: { name: string; perDraw: () => Promise<number>; error: () => number }[] = [];
  for (const lanes of [4, 2, 1] as const) {
    const engine = engineWith(lanes, tolerance);
    const result = engine.makeResult(draws);
    contenders.push({
      name: `engine, ${lanes} ${lanes === 1 ? 'lane' : 'lanes'}`,
      async perDraw() {
        const begin = process.cpuUsage();
        engine.run(full, draws, result);
        const { user, system } = process.cpuUsage(begin);
        return (user + system) / 1e6 / draws;
      },
      error: () => largestError(lastNumbers(engine, full), truth),
    });
  }
  const peers: Peer[] = [];
  const addPeer = (name: string, command: string, before: readonly string[], count: number): void => {
    const results = join(folder, `${name}.out`);
    const parts = [task.model, rowsFile, count, tolerance, 1e-3 * tolerance, results, interval, lastsS];
    const peer = startPeer(command, [...before, ...parts.map(String)]);
    peers.push(peer);
    contenders.push({
      name,
      perDraw: async () => (await peer.round()) / count,
      error: () => largestError(thirdNumbers(results), truth),
    });
  };
  if (compiler) {
    addPeer('C', join(folder, 'trajectories'), [], draws);
    addPeer('C, 4 lanes by hand', join(folder, 'laned'), [], draws);
  }
  if (python !== undefined) addPeer('SciPy', python, [resolve('bench/peers/trajectories.py')], peerDraws);

  for (const { perDraw } of contenders) await warmUp(perDraw);
  const times = contenders.map((): number[] => []);
  for (let round = 0; round < rounds; round++) {
    const order = contenders.map((_, index) => index);
    if (round % 2 === 1) order.reverse();
    for (const index of order) times[index].push(await contenders[index].perDraw());
  }
  for (const peer of peers) peer.close();
  console.log(`\n${task.name}, tolerance ${tolerance}`);
  console.log('| | engine is faster by | µs a trajectory | largest error |\n| --- | --- | --- | --- |');
  for (const [index, { name, error }] of contenders.entries()) {
    const ratios = times[index].map((time, round) => time / times[0][round]);
    const ratio = index === 0 ? 'of 4 lanes:' : median(ratios).toPrecision(3);
    console.log(
      `| ${name} | ${ratio} | ${(1e6 * median(times[index])).toPrecision(3)} | ${error().toExponential(1)} |`,
    );
  }
}

/** Compilers improve code while it runs, on another thread, which a busy machine makes wait. */
async function warmUp(perDraw: () => Promise<number>): Promise<void> {
  const begin = performance.now();
  for (let i = 0; i < 2 || (i < 200 && performance.now() - begin < 1500); i++) await perDraw();
}

function drawRows(values: Float64Array): Float64Array[] {
  let state = 12345;
  const uniform = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648 - 0.5;
  };
  return Array.from({ length: draws }, () => values.map((value) => value * (1 + 0.02 * uniform())));
}

/** The last reading of each draw. */
function lastNumbers(engine: BatchEngine, rows: Float64Array): Float64Array {
  const result = engine.makeResult(draws);
  engine.run(rows, draws, result);
  const [{ count, values }] = result.series;
  if (result.status.some((status) => status !== 0)) throw new Error('A draw failed.');
  const most = values.length / draws;
  return Float64Array.from(count, (found, draw) => values[draw * most + found - 1]);
}

function thirdNumbers(file: string): Float64Array {
  const bytes = readFileSync(file);
  const numbers = new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  return numbers.filter((_, index) => index % 3 === 2);
}

function largestError(found: Float64Array, truth: Float64Array): number {
  return found.reduce((worst, value, draw) => Math.max(worst, Math.abs(value / truth[draw] - 1)), 0);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}

/** The table of coefficients as a C header. */
function coefficientsInC(): string {
  const lines = ['static double a[17][17], c[17], b[17], e5[17], e3[17], dense[4][17];'];
  lines.push('__attribute__((constructor)) static void fill(void) {');
  for (const [key, value] of Object.entries(order8)) {
    const row = /^a(\d+)_(\d+)$/.exec(key);
    const error = /^(e5|e3)_(\d+)$/.exec(key);
    const inside = /^d(\d)_(\d+)$/.exec(key);
    const weight = /^(b|c)(\d+)$/.exec(key);
    if (row !== null) lines.push(`  a[${row[1]}][${row[2]}] = ${value};`);
    else if (error !== null) lines.push(`  ${error[1]}[${error[2]}] = ${value};`);
    else if (inside !== null) lines.push(`  dense[${Number(inside[1]) - 4}][${inside[2]}] = ${value};`);
    else if (weight !== null) lines.push(`  ${weight[1]}[${weight[2]}] = ${value};`);
  }
  lines.push('  c[12] = 1;', '}');
  return lines.join('\n');
}

/** Each row of the table written out with its constants, and the polynomials of the elementary functions. */
function rowsInC(): string {
  const rows = [
    ...Array.from({ length: 15 }, (_, index) => index + 2)
      .filter((row) => row !== 13)
      .map((row) => [`A${row}`, `a${row}_`]),
    ['B', 'b'],
    ...['e5', 'e3', 'd4', 'd5', 'd6', 'd7'].map((name) => [name.toUpperCase(), `${name}_`]),
  ].map(([name, prefix]) => {
    const terms = rowOf(prefix).map(([stage, coefficient]) => `${coefficient} * (k)[${stage}][i]`);
    return `#define ROW_${name}(k, i) (${terms.join(' + ')})`;
  });
  const array = (name: string, terms: readonly number[]): string =>
    `static const double ${name}[] = {${terms.join(', ')}};`;
  return [...rows, array('sine_terms', sineTerms), array('exponential_terms', exponentialTerms)].join('\n');
}
