import { fail, type Outcome, type Place, type Problem, problem, succeed, warning } from '../problem/index.ts';
import type { Estimate } from '../quantity/index.ts';
import type { Correlation } from './correlations.ts';
import { type CoverageInterval, shortestInterval, symmetricInterval } from './coverage-interval.ts';
import { type EstimateDraw, prepareDraws } from './draw-estimates.ts';
import { numericalTolerance } from './numerical-tolerance.ts';
import { coverageFactor } from './propagate-linear.ts';
import type { RandomSource } from './random-source.ts';

export interface MonteCarloInput {
  /** Writes the m outputs for k inputs; an output that is not finite says that the inputs lie outside the domain. */
  readonly evaluate: (inputs: Float64Array, outputs: Float64Array) => void;
  readonly estimates: readonly Estimate[];
  readonly correlations?: readonly Correlation[];
  readonly random: RandomSource;
  /** m; 1 unless stated. */
  readonly outputs?: number;
  /** A number of draws, or 'adaptive': until the results are sure within their numerical tolerance. */
  readonly draws?: number | 'adaptive';
  /** Coverage level of the intervals; 0.95 unless stated. */
  readonly level?: number;
  /** Significant digits of the standard uncertainty that adaptive draws are to make sure; 2 unless stated. */
  readonly digits?: number;
  /** Adaptive draws stop here at the latest; 2 million unless stated. */
  readonly mostDraws?: number;
  /** What the outputs are called in messages. */
  readonly names?: readonly string[];
  readonly place?: Place;
  readonly signal?: { readonly aborted: boolean };
}

/** What the draws say of one output. */
export interface MonteCarloOutput {
  readonly mean: number;
  readonly standardUncertainty: number;
  /** Equal parts below and above. */
  readonly symmetric: CoverageInterval;
  readonly shortest: CoverageInterval;
  /** Standard uncertainty that the finite number of draws leaves in each; NaN with fewer than two blocks. */
  readonly numerical: {
    readonly mean: number;
    readonly standardUncertainty: number;
    readonly low: number;
    readonly high: number;
  };
  /** Draws at which this output was not finite: counted, and in none of the figures. */
  readonly leftDomain: number;
}

export interface MonteCarlo {
  readonly outputs: readonly MonteCarloOutput[];
  /** m×m, row-major, over the draws at which all outputs were finite. */
  readonly covariance: Float64Array;
  readonly draws: number;
  /** Whether the numerical tolerance was reached; a fixed number of draws does not aim at it, but is judged too. */
  readonly stable: boolean;
  readonly warnings: readonly Problem[];
}

const MOST_LOST = 0.5;

/**
 * Propagation of distributions by random draws.
 *
 * Fails with 'impossible-correlations', 'left-domain' (more than half of the draws give no finite value), 'aborted'.
 * Warns 'left-domain' with the count, and 'not-stable' where adaptive draws ran out.
 * Same seed, same result.
 * Source: JCGM 101:2008, 7.2 to 7.9
 */
export function propagateMonteCarlo(input: MonteCarloInput): Outcome<MonteCarlo> {
  const place = input.place ?? { step: 'Monte Carlo propagation' };
  const prepared = prepareDraws(input.estimates, input.correlations ?? [], place);
  if (!prepared.ok) return prepared;
  const level = input.level ?? 0.95;
  if (!(level > 0 && level < 1))
    throw new RangeError(`A coverage level lies between 0 and 1; found ${level}.`);
  const run = new Run(input, prepared.value, level);
  if (!run.drawAll())
    return fail(problem('aborted', place, 'The draws were stopped before they were enough.'));
  return run.report(place);
}

class Run {
  readonly #input: MonteCarloInput;
  readonly #draw: EstimateDraw;
  readonly #level: number;
  readonly #m: number;
  readonly #adaptive: boolean;
  readonly #blockSize: number;
  /** Per output, the draws of each block; NaN where outside the domain. */
  readonly #blocks: Float64Array[][];
  readonly #blockFigures: BlockFigures[][];
  #stable = false;

  constructor(input: MonteCarloInput, draw: EstimateDraw, level: number) {
    this.#input = input;
    this.#draw = draw;
    this.#level = level;
    this.#m = input.outputs ?? 1;
    this.#adaptive = (input.draws ?? 'adaptive') === 'adaptive';
    // JCGM 101, 7.9.4: blocks of at least 100/(1 − p) draws, and of at least 10⁴.
    const block = Math.max(Math.ceil(100 / (1 - level)), 10_000);
    this.#blockSize = typeof input.draws === 'number' ? Math.max(1, Math.ceil(input.draws / 10)) : block;
    this.#blocks = Array.from({ length: this.#m }, () => []);
    this.#blockFigures = Array.from({ length: this.#m }, () => []);
  }

  /** False where it was stopped. */
  drawAll(): boolean {
    const { draws, mostDraws = 2_000_000 } = this.#input;
    const most = typeof draws === 'number' ? draws : mostDraws;
    let done = 0;
    while (done < most) {
      const size = Math.min(this.#blockSize, most - done);
      if (!this.#drawBlock(size)) return false;
      done += size;
      this.#stable = this.#isStable();
      if (this.#adaptive && this.#stable) break;
    }
    return true;
  }

  #drawBlock(size: number): boolean {
    const inputs = new Float64Array(this.#input.estimates.length);
    const outputs = new Float64Array(this.#m);
    const block = Array.from({ length: this.#m }, () => new Float64Array(size));
    for (let i = 0; i < size; i += 1) {
      if (i % 256 === 0 && this.#input.signal?.aborted) return false;
      this.#draw.draw(this.#input.random, inputs);
      outputs.fill(Number.NaN);
      this.#input.evaluate(inputs, outputs);
      for (let o = 0; o < this.#m; o += 1)
        block[o][i] = Number.isFinite(outputs[o]) ? outputs[o] : Number.NaN;
    }
    block.forEach((values, o) => {
      this.#blocks[o].push(values);
      this.#blockFigures[o].push(figuresOf(values, this.#level));
    });
    return true;
  }

  /** JCGM 101, 7.9.4, steps g to j, for every output. */
  #isStable(): boolean {
    return this.#blockFigures.every((figures) => {
      if (figures.length < 2) return false;
      const spread = spreadOf(figures);
      const u = averageOf(figures, (figure) => figure.standardUncertainty);
      if (u === 0) return true;
      const tolerance = numericalTolerance(u, this.#input.digits ?? 2);
      // Where the standard has 2, Student's t for so few blocks: two that agree by luck must not end it.
      const factor = coverageFactor(figures.length - 1, 0.9545);
      return factor * Math.max(spread.mean, spread.standardUncertainty, spread.low, spread.high) < tolerance;
    });
  }

  report(place: Place): Outcome<MonteCarlo> {
    const warnings: Problem[] = [];
    const draws = this.#blocks[0].reduce((sum, block) => sum + block.length, 0);
    const outputs: MonteCarloOutput[] = [];
    for (let o = 0; o < this.#m; o += 1) {
      const values = joinFinite(this.#blocks[o]);
      const leftDomain = draws - values.length;
      const name = this.#input.names?.[o] ?? (this.#m === 1 ? '' : `output ${o + 1}`);
      const which = name === '' ? '' : ` for ${name}`;
      if (leftDomain > 0) {
        const message = `${leftDomain} of ${draws} draws gave no finite value${which}`;
        if (leftDomain > MOST_LOST * draws) {
          return fail(
            problem(
              'left-domain',
              place,
              `${message}: most of what the inputs may be lies outside the domain.`,
              'Check the uncertainties of the inputs, or the limits within which the formula holds.',
            ),
          );
        }
        warnings.push(
          warning(
            'left-domain',
            place,
            `${message}; they are counted, but in none of its figures.`,
            'What is stated holds under the condition that the others are right.',
          ),
        );
      }
      outputs.push(this.#describe(values, this.#blockFigures[o], leftDomain));
    }
    if (this.#adaptive && !this.#stable) {
      warnings.push(
        warning(
          'not-stable',
          place,
          `After ${draws} draws the last digit is not sure yet; the figures carry the stated numerical uncertainty.`,
          'Allow more draws, or ask for fewer digits.',
        ),
      );
    }
    const covariance = covarianceOf(this.#blocks, this.#m);
    return succeed({ outputs, covariance, draws, stable: this.#stable, warnings }, warnings);
  }

  #describe(values: Float64Array, figures: readonly BlockFigures[], leftDomain: number): MonteCarloOutput {
    const { mean, standardUncertainty } = momentsOf(values);
    values.sort();
    return {
      mean,
      standardUncertainty,
      symmetric: symmetricInterval(values, this.#level),
      shortest: shortestInterval(values, this.#level),
      numerical: spreadOf(figures),
      leftDomain,
    };
  }
}

interface BlockFigures {
  readonly mean: number;
  readonly standardUncertainty: number;
  readonly low: number;
  readonly high: number;
}

function figuresOf(values: Float64Array, level: number): BlockFigures {
  const finite = values.filter((value) => !Number.isNaN(value));
  const { mean, standardUncertainty } = momentsOf(finite);
  const { low, high } = symmetricInterval(finite.sort(), level);
  return { mean, standardUncertainty, low, high };
}

/** Standard deviation, over the blocks, of the average of each figure. */
function spreadOf(figures: readonly BlockFigures[]): BlockFigures {
  const spread = (pick: (figure: BlockFigures) => number): number => {
    const { standardUncertainty } = momentsOf(Float64Array.from(figures, pick));
    return standardUncertainty / Math.sqrt(figures.length);
  };
  return {
    mean: spread((figure) => figure.mean),
    standardUncertainty: spread((figure) => figure.standardUncertainty),
    low: spread((figure) => figure.low),
    high: spread((figure) => figure.high),
  };
}

function averageOf(figures: readonly BlockFigures[], pick: (figure: BlockFigures) => number): number {
  return figures.reduce((sum, figure) => sum + pick(figure), 0) / figures.length;
}

function momentsOf(values: Float64Array): { mean: number; standardUncertainty: number } {
  const n = values.length;
  // Taken from the first value, so that a large mean costs no digits.
  const origin = n > 0 ? values[0] : 0;
  let sum = 0;
  for (const value of values) sum += value - origin;
  const offset = sum / n;
  let squares = 0;
  for (const value of values) squares += (value - origin - offset) ** 2;
  return { mean: origin + offset, standardUncertainty: n > 1 ? Math.sqrt(squares / (n - 1)) : Number.NaN };
}

function joinFinite(blocks: readonly Float64Array[]): Float64Array {
  const finite = blocks.map((block) => block.filter((value) => !Number.isNaN(value)));
  const all = new Float64Array(finite.reduce((sum, block) => sum + block.length, 0));
  let at = 0;
  for (const block of finite) {
    all.set(block, at);
    at += block.length;
  }
  return all;
}

function covarianceOf(blocks: readonly Float64Array[][], m: number): Float64Array {
  const origin = new Float64Array(m);
  const means = new Float64Array(m);
  const products = new Float64Array(m * m);
  let count = 0;
  blocks[0].forEach((first, b) => {
    for (let i = 0; i < first.length; i += 1) {
      let whole = true;
      for (let o = 0; o < m; o += 1) whole &&= !Number.isNaN(blocks[o][b][i]);
      if (!whole) continue;
      if (count === 0) for (let o = 0; o < m; o += 1) origin[o] = blocks[o][b][i];
      count += 1;
      for (let o = 0; o < m; o += 1) {
        const value = blocks[o][b][i] - origin[o];
        means[o] += value;
        for (let q = 0; q <= o; q += 1) products[o * m + q] += value * (blocks[q][b][i] - origin[q]);
      }
    }
  });
  const covariance = new Float64Array(m * m);
  for (let o = 0; o < m; o += 1) {
    for (let q = 0; q <= o; q += 1) {
      const value = (products[o * m + q] - (means[o] * means[q]) / count) / (count - 1);
      covariance[o * m + q] = value;
      covariance[q * m + o] = value;
    }
  }
  return covariance;
}
