import { createBatchEngine, type Lanes } from '../../src/engine/index.ts';
import { evolve } from '../../src/evolve/index.ts';
import { compileFunction, makeTable, parseExpression } from '../../src/expression/index.ts';
import { randomSource } from '../../src/inference/index.ts';
import { createPipeline, loadTrials, readLab } from '../../src/lab/index.ts';
import { formatProblem, type Outcome, succeed } from '../../src/problem/index.ts';
import { dimensionless } from '../../src/quantity/index.ts';
import { reconcile } from '../../src/reconcile/index.ts';
import { infer, rehearse } from '../../src/run/index.ts';
import { libraryFunction, libraryTypes } from '../../src/wasm/index.ts';
import { modelOf, valuesOf } from '../evolve/model-from-texts.ts';
import { digestOf } from './digest.ts';

/** Reads a file of the lab by its path in the folder. */
export type ReadFile = (path: string) => Promise<Uint8Array<ArrayBuffer>>;

/**
 * Digests of what the numerical parts make of the same questions, each by its name: elementary functions, formulas, one
 * motion, many motions on 1, 2 and 4 lanes, and whole ways of running a lab.
 */
export async function allDigests(read: ReadFile): Promise<Readonly<Record<string, string>>> {
  return {
    ...elementaryDigests(),
    formulas: formulaDigest(),
    'one motion': motionDigest(),
    ...Object.fromEntries(
      ([1, 2, 4] as const).map((lanes) => [`motions, lanes: ${lanes}`, laneDigest(lanes)]),
    ),
    ...(await labDigests(read)),
  };
}

const powers = Array.from({ length: 41 }, (_, index) => 2 ** (index - 20));

function elementaryDigests(): Readonly<Record<string, string>> {
  return Object.fromEntries(
    [...libraryTypes].map(([name, { takes }]) => {
      const random = randomSource(7);
      const value = (): number =>
        (random.uniform() - 0.5) * powers[Math.floor(powers.length * random.uniform())];
      const found = Float64Array.from({ length: 2000 }, () => libraryFunction(name)(...takes.map(value)));
      return [name, digestOf(found)];
    }),
  );
}

const formulas = [
  'x^y + exp(-x*y)*sin(40*x)^3 - atan2(y, x)/cosh(x)',
  'if(x > y, log10(1 + x^2), cbrt(y)) + hypot(x, y, 1)',
  'integrate(exp(-s^2*x)*cos(y*s), s, 0, 1 + abs(y))',
  'interpolate(A, abs(x)) + d(tanh(x*y)/(1 + x^2), x)',
  'sin(1e9*x) + tan(y/1e-7)',
];

function formulaDigest(): string {
  const table = makeTable(
    { x: [0, 0.3, 1, 2.2, 5], y: [1, 1.5, 1.4, -2, 0.1] },
    { x: dimensionless, y: dimensionless },
  );
  const tables = new Map([['A', must(table)]]);
  const trees = formulas.map((text) => must(parseExpression(text)).tree);
  const evaluate = compileFunction(trees, ['x', 'y'], { tables });
  const random = randomSource(11);
  const out = new Float64Array(trees.length);
  return digestOf(
    Array.from({ length: 300 }, () => {
      evaluate(Float64Array.of(4 * random.uniform() - 2, 4 * random.uniform() - 2), out);
      return out.slice();
    }),
  );
}

const pendulum = {
  parameters: { l: [0.9, 'm'], g: [9.81, 'm/s^2'], c: [0.05, '1/s'], a: [2.5, ''], F: [0.3, '1/s^2'] },
  states: { theta: ['a', 'omega'], omega: ['0 rad/s', '-g/l*sin(theta) - c*omega - dry(F, omega)'] },
  lasts: '6 s',
  signals: { height: 'l*(1 - cos(theta))' },
} as const;

function motionDigest(): string {
  const motion = must(evolve(modelOf(pendulum), valuesOf(pendulum)));
  const times = Array.from({ length: 400 }, (_, k) => (motion.endS * k) / 399);
  return digestOf([motion.endS, motion.breaks, times.map((t) => motion.signalAt(0, t))]);
}

function laneDigest(lanes: Lanes): string {
  const model = modelOf({ ...pendulum, parameters: { ...pendulum.parameters, F: [0, '1/s^2'] } });
  const draws = 51;
  const asked = [{ kind: 'samples', signal: 0, start: 0, interval: 0.05, most: 128 }] as const;
  const engine = must(createBatchEngine(model, asked, { lanes }));
  const random = randomSource(5);
  const values = valuesOf(pendulum, { F: 0 });
  const rows = Float64Array.from(
    { length: draws * engine.rowLength },
    (_, index) => values[index % engine.rowLength] * (1 + 0.02 * (random.uniform() - 0.5)),
  );
  const result = engine.makeResult(draws);
  engine.run(rows, draws, result);
  return digestOf(result);
}

async function labDigests(read: ReadFile): Promise<Readonly<Record<string, string>>> {
  const text = new TextDecoder().decode(await read('lab.yaml'));
  const lab = must(readLab(text, 'lab.yaml'));
  const pipeline = createPipeline(lab);
  const trials = must(await loadTrials(lab, async (path) => succeed(await read(path))));
  return {
    reconcile: digestOf(must(reconcile(pipeline, trials, { draws: 64 }))),
    rehearse: digestOf(must(rehearse(pipeline, { repeats: 5 }))),
    infer: digestOf(must(infer(pipeline, trials, { pairs: 256 }))),
  };
}

function must<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map(formatProblem).join('\n'));
}
