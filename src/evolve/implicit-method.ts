import { power } from '../wasm/index.ts';
import { evaluateRates, type Flow, writeState } from './flow.ts';
import { evaluateJacobian } from './jacobian.ts';
import { createNewtonSystems, factorSystems, solvePair, solveReal } from './newton-systems.ts';
import {
  alpha,
  beta,
  errorWeights,
  gamma,
  inverseTransform,
  places,
  polynomial,
  transform,
} from './radau-coefficients.ts';
import type { StepMethod } from './step-method.ts';
import type { Tolerances } from './tolerances.ts';

const largestIterations = 6;
const leastFactor = 0.2;
const largestFactor = 10;
/** A step that would grow less than this keeps its length, and so its factored systems. */
const worthChanging = 1.2;
/** The Jacobian is kept while the iteration shrinks its corrections at least so fast. */
const goodRate = 1e-3;
/** So often in a row the step must be short enough for an explicit method before it is changed to. */
const enoughEasySteps = 10;
/** Step times norm of the Jacobian up to which an explicit step would be stable. */
const easyProduct = 2;

/**
 * The implicit Runge–Kutta method Radau IIA of order 5, for stiff models: stable whatever the step.
 *
 * Source: Hairer, Wanner, Solving Ordinary Differential Equations II, 2nd ed. (Springer 1996), IV.8
 */
export function createImplicitMethod(flow: Flow): StepMethod {
  const { inputs, statesAt, stateCount: n } = flow;
  const timeAt = flow.program.inputs.time;
  const numbers = (): Float64Array<ArrayBuffer> => new Float64Array(n);
  const y = numbers();
  const end = numbers();
  const startRates = numbers();
  const endRates = numbers();
  const scale = numbers();
  const error = numbers();
  const shifted = numbers();
  const stages = [numbers(), numbers(), numbers()] as const;
  const rates = [numbers(), numbers(), numbers()] as const;
  const moved = [numbers(), numbers(), numbers()] as const;
  const right = numbers();
  const rightPair = new Float64Array(2 * n);
  const jacobian = new Float64Array(n * n);
  const jacobianWork = { base: numbers(), shifted: numbers() };
  const systems = createNewtonSystems(n);
  /** Coefficients of θ, θ², θ³ of the last accepted step, for the first guess of the next. */
  const lastTerms = new Float64Array(3 * n);
  let tolerances: Tolerances = { relative: 0, absolute: numbers(), follows: false };
  let t = 0.5;
  let h = 0.5;
  let factoredFor = 0.5;
  let lastLength = 0.5;
  let lastError = 0.5;
  let hasLast = false;
  let jacobianIsFresh = false;
  let jacobianIsKnown = false;
  let iterations = 0;
  let rate = 0.5;
  let rejectedBefore = false;
  let easySteps = 0;

  const updateJacobian = (): void => {
    writeState(flow, t, y);
    evaluateJacobian(flow, jacobian, tolerances.absolute, jacobianWork);
    jacobianIsFresh = true;
    jacobianIsKnown = true;
    factoredFor = 0;
  };

  const guessStages = (): void => {
    const ratio = h / lastLength;
    for (let s = 0; s < 3; s++) {
      const theta = 1 + ratio * places[s];
      for (let i = 0; i < n; i++) {
        const c = 3 * i;
        const before = lastTerms[c] + lastTerms[c + 1] + lastTerms[c + 2];
        stages[s][i] = hasLast
          ? theta * (lastTerms[c] + theta * (lastTerms[c + 1] + theta * lastTerms[c + 2])) - before
          : 0;
      }
    }
    for (let s = 0; s < 3; s++) {
      const [a, b, c] = inverseTransform[s];
      for (let i = 0; i < n; i++) moved[s][i] = a * stages[0][i] + b * stages[1][i] + c * stages[2][i];
    }
  };

  /** Simplified Newton iteration for the stages; false where it does not converge. */
  const solveStages = (): boolean => {
    const { relative } = tolerances;
    const enough = Math.max((10 * Number.EPSILON) / relative, Math.min(0.03, Math.sqrt(relative)));
    guessStages();
    let lastNorm = 0;
    rate = 0;
    for (iterations = 1; iterations <= largestIterations; iterations++) {
      for (let s = 0; s < 3; s++) {
        for (let i = 0; i < n; i++) inputs[statesAt + i] = y[i] + stages[s][i];
        inputs[timeAt] = t + places[s] * h;
        evaluateRates(flow, rates[s]);
      }
      for (let i = 0; i < n; i++) {
        const [f, g, k] = [rates[0][i], rates[1][i], rates[2][i]];
        const [real, re, im] = inverseTransform;
        const u = moved[1][i];
        const w = moved[2][i];
        right[i] = real[0] * f + real[1] * g + real[2] * k - (gamma / h) * moved[0][i];
        rightPair[i] = re[0] * f + re[1] * g + re[2] * k - (alpha * u - beta * w) / h;
        rightPair[n + i] = im[0] * f + im[1] * g + im[2] * k - (beta * u + alpha * w) / h;
      }
      solveReal(systems, right);
      solvePair(systems, rightPair);
      let sum = 0;
      for (let i = 0; i < n; i++) {
        sum +=
          (right[i] / scale[i]) ** 2 + (rightPair[i] / scale[i]) ** 2 + (rightPair[n + i] / scale[i]) ** 2;
        moved[0][i] += right[i];
        moved[1][i] += rightPair[i];
        moved[2][i] += rightPair[n + i];
      }
      for (let s = 0; s < 3; s++) {
        const [a, b, c] = transform[s];
        for (let i = 0; i < n; i++) stages[s][i] = a * moved[0][i] + b * moved[1][i] + c * moved[2][i];
      }
      const norm = Math.sqrt(sum / (3 * n));
      if (!Number.isFinite(norm)) return false;
      if (iterations > 1) {
        rate = norm / lastNorm;
        const left = largestIterations - iterations;
        if (rate >= 1 || (power(rate, left) / (1 - rate)) * norm > enough) return false;
      }
      if (norm === 0 || (iterations > 1 && (rate / (1 - rate)) * norm < enough)) return true;
      lastNorm = norm;
    }
    return false;
  };

  const measureError = (from: Float64Array): number => {
    for (let i = 0; i < n; i++) {
      const stagesPart =
        (errorWeights[0] * stages[0][i] + errorWeights[1] * stages[1][i] + errorWeights[2] * stages[2][i]) /
        h;
      error[i] = from[i] + stagesPart;
    }
    solveReal(systems, error);
    let sum = 0;
    for (let i = 0; i < n; i++) sum += (error[i] / scale[i]) ** 2;
    return Math.sqrt(sum / n);
  };

  return {
    name: 'implicit Runge–Kutta method Radau IIA of order 5',
    startRates,
    end,
    endRates,
    begin(start, state, allowed) {
      t = start;
      y.set(state);
      tolerances = allowed;
      hasLast = false;
      jacobianIsKnown = false;
      factoredFor = 0;
      lastLength = 1;
      rejectedBefore = false;
      easySteps = 0;
      writeState(flow, t, y);
      evaluateRates(flow, startRates);
    },
    attempt(length) {
      h = length;
      for (let i = 0; i < n; i++) scale[i] = tolerances.absolute[i] + tolerances.relative * Math.abs(y[i]);
      if (!jacobianIsKnown) updateJacobian();
      for (;;) {
        if (factoredFor !== h && !factorSystems(systems, jacobian, h)) return Number.POSITIVE_INFINITY;
        factoredFor = h;
        if (solveStages()) break;
        if (jacobianIsFresh) return Number.POSITIVE_INFINITY;
        updateJacobian();
      }
      for (let i = 0; i < n; i++) {
        end[i] = y[i] + stages[2][i];
        scale[i] = tolerances.absolute[i] + tolerances.relative * Math.max(Math.abs(y[i]), Math.abs(end[i]));
      }
      let size = measureError(startRates);
      if (size > 1 && (rejectedBefore || !hasLast)) {
        for (let i = 0; i < n; i++) shifted[i] = y[i] + error[i];
        writeState(flow, t, shifted);
        evaluateRates(flow, right);
        size = measureError(right);
      }
      writeState(flow, t + h, end);
      evaluateRates(flow, endRates);
      for (let i = 0; i < n; i++) size += 0 * endRates[i];
      return size;
    },
    writePiece(piece) {
      for (let i = 0; i < n; i++) {
        const [linear, square, cube] = termsOf(stages, i);
        piece[4 * i] = y[i];
        piece[4 * i + 1] = linear + square + cube;
        piece[4 * i + 2] = -square - cube;
        piece[4 * i + 3] = -cube;
      }
      return 4;
    },
    advance() {
      for (let i = 0; i < n; i++) {
        const [linear, square, cube] = termsOf(stages, i);
        lastTerms[3 * i] = linear;
        lastTerms[3 * i + 1] = square;
        lastTerms[3 * i + 2] = cube;
      }
      t += h;
      y.set(end);
      startRates.set(endRates);
      hasLast = true;
      jacobianIsFresh = false;
    },
    proposeStep(length, size, accepted) {
      if (Number.isNaN(size)) return leastFactor * length;
      if (size === Number.POSITIVE_INFINITY) {
        rejectedBefore = true;
        return 0.5 * length;
      }
      const safety = (0.9 * (2 * largestIterations + 1)) / (2 * largestIterations + iterations);
      const trend = hasLast && size > 0 ? (length / lastLength) * Math.sqrt(Math.sqrt(lastError / size)) : 1;
      const factor = (safety * Math.min(1, trend)) / Math.sqrt(Math.sqrt(Math.max(size, 1e-10)));
      if (!accepted) {
        rejectedBefore = true;
        return length * Math.max(leastFactor, Math.min(1, factor));
      }
      if (iterations > 2 && rate > goodRate) jacobianIsKnown = false;
      lastLength = length;
      lastError = Math.max(size, 1e-10);
      rejectedBefore = false;
      if (factor < worthChanging && factor >= 1 && jacobianIsKnown) return length;
      return length * Math.max(leastFactor, Math.min(largestFactor, factor));
    },
    wantsChange(length) {
      let norm = 0;
      for (let i = 0; i < n; i++) {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += Math.abs(jacobian[i * n + k]);
        norm = Math.max(norm, sum);
      }
      easySteps = length * norm < easyProduct ? easySteps + 1 : 0;
      return easySteps >= enoughEasySteps;
    },
  };
}

/** What a state gains with θ, θ², θ³ in a step with these stages. */
function termsOf(stages: readonly Float64Array[], i: number): readonly [number, number, number] {
  const term = (power: 0 | 1 | 2): number =>
    stages[0][i] * polynomial[0][power] +
    stages[1][i] * polynomial[1][power] +
    stages[2][i] * polynomial[2][power];
  return [term(0), term(1), term(2)];
}
