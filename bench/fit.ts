import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { createTrajectoryFitter } from '../src/engine/index.ts';
import { createEvolver } from '../src/evolve/index.ts';
import { compileColumns, differentiate, parseExpression, simplify } from '../src/expression/index.ts';
import { type Evaluate, fitNonlinear, randomSource } from '../src/inference/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from '../test/evolve/model-from-texts.ts';
import { startPeer, works } from './peer-process.ts';

const readingCount = 500;
const durationS = 10;
const rounds = Number(process.env.ROUNDS ?? 21);
const fitsARound = 40;

const pendulum: ModelTexts = {
  parameters: { l: [0.9, 'm'], g: [9.81, 'm/s^2'], c: [0.05, '1/s'], a: [0.5, ''] },
  states: { theta: ['a', 'omega'], omega: ['0 rad/s', '-g/l*sin(theta) - c*omega'] },
  lasts: `${durationS} s`,
  signals: { angle: 'theta' },
};

interface Contender {
  readonly name: string;
  /** One fit. */
  readonly fit: () => Float64Array;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly task: string;
}

/** Fits of three free quantities to 500 readings, in turns with SciPy's defaults; prints ratios of processor time. */
export async function main(folder: string): Promise<void> {
  const python = ['/usr/bin/python3', 'python3'].find((name) => works(name, ['-c', 'import scipy']));
  if (python === undefined)
    console.log('SciPy is not installed and is left out (apt-get install python3-scipy).\n');
  console.log(`Fits of 3 free quantities to ${readingCount} readings; ${rounds} rounds in turns, medians.\n`);
  console.log('| fit | ours, ms | SciPy default, ms | SciPy / ours |');
  console.log('| --- | --- | --- | --- |');
  for (const contender of [motionFit(), expressionFit()]) {
    const path = join(folder, `${contender.task}.txt`);
    writeFileSync(path, contender.x.map((x, i) => `${x} ${contender.y[i]}`).join('\n'));
    const script = resolve('bench/peers/fit.py');
    const peer = python === undefined ? null : startPeer(python, [script, contender.task, path]);
    const ours: number[] = [];
    const theirs: number[] = [];
    for (let round = 0; round < rounds; round++) {
      const turns = [
        () => ours.push(timeOf(contender.fit)),
        async () => peer !== null && theirs.push(await peer.round()),
      ];
      if (round % 2 === 1) turns.reverse();
      for (const turn of turns) await turn();
    }
    peer?.close();
    const ratios = theirs.map((time, round) => time / ours[round]);
    const show = (values: readonly number[], digits: number) =>
      values.length === 0 ? '–' : median(values).toPrecision(digits);
    console.log(
      `| ${contender.name} | ${show(
        ours.map((time) => 1000 * time),
        3,
      )} | ${show(
        theirs.map((time) => 1000 * time),
        3,
      )} | ${show(ratios, 3)} |`,
    );
  }
}

function timeOf(fitOnce: () => Float64Array): number {
  const before = process.cpuUsage();
  for (let i = 0; i < fitsARound; i++) fitOnce();
  const used = process.cpuUsage(before);
  return (used.user + used.system) / 1e6 / fitsARound;
}

function motionFit(): Contender {
  const intervalS = durationS / readingCount;
  const model = modelOf(pendulum);
  const readings = { signal: 0, startS: intervalS, intervalS, count: readingCount - 1 };
  const fitter = createTrajectoryFitter(model, readings);
  const x = Array.from({ length: readings.count }, (_, i) => intervalS * (i + 1));
  const truth = valuesOf(pendulum);
  const y = withNoise(anglesOf(x), 0.005);
  const start = truth.slice();
  start.set([1, truth[1], 0.04, 0.55]);
  return {
    name: 'a pendulum’s length, drag and start, to its angles',
    fit: () => unwrap(fitter.fit(start, [0, 2, 3], y)).parameters,
    x,
    y,
    task: 'motion',
  };
}

/** The pendulum's angles by the general evolution. */
function anglesOf(x: readonly number[]): number[] {
  const motion = unwrap(createEvolver(modelOf(pendulum)).run(valuesOf(pendulum)));
  return x.map((t) => motion.signalAt(0, t));
}

function expressionFit(): Contender {
  const x = Array.from({ length: readingCount }, (_, i) => 0.02 * i);
  const y = withNoise(
    x.map((t) => 2.5 * (1 - Math.exp(-0.7 * t)) + 0.1),
    0.01,
  );
  const names = ['b1', 'b2', 'b3'];
  const tree = unwrap(parseExpression('b1*(1 - exp(-b2*x)) + b3')).tree;
  const value = compileColumns(tree, ['x'], names);
  const derivatives = names.map((name) => compileColumns(simplify(differentiate(tree, name)), ['x'], names));
  const columns = [Float64Array.from(x)];
  const evaluate: Evaluate = (at, values, jacobian) => {
    value(columns, at, values);
    if (jacobian !== null)
      for (const [j, derivative] of derivatives.entries()) derivative(columns, at, jacobian[j]);
  };
  return {
    name: 'b1·(1 − exp(−b2·x)) + b3 to a table',
    fit: () => unwrap(fitNonlinear({ y, evaluate, start: [2, 0.5, 0] })).parameters,
    x,
    y,
    task: 'expression',
  };
}

function withNoise(values: readonly number[], deviation: number): number[] {
  const random = randomSource(5);
  return values.map((value) => value + deviation * random.normal());
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}
