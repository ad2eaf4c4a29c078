import type { Model } from '../model/index.ts';
import { fail, type Outcome } from '../problem/index.ts';
import { createCourse } from './course.ts';
import type { Motion } from './motion.ts';
import type { EvolutionOptions } from './options.ts';
import { beginRun, finishRun } from './run.ts';
import { takeStep } from './take-step.ts';

/** Runs one model many times, with different parameters, allocating little. */
export interface Evolver {
  /**
   * As `evolve`; the motion can be looked at until the next run of this evolver.
   *
   * @param p one value a parameter of the model, SI, in the order of `model.parameterNames`
   */
  run(p: Float64Array, options?: EvolutionOptions): Outcome<Motion>;
}

/** Prepares to run a model many times. */
export function createEvolver(model: Model): Evolver {
  const course = createCourse(model.program);
  return {
    run(p, options = {}) {
      const begun = beginRun(course, p, options);
      if (!begun.ok) return begun;
      const run = begun.value;
      while (run.ended === null) {
        const problem = takeStep(run);
        if (problem !== null) return fail(problem);
      }
      return finishRun(
        run,
        p,
        run.methods.map(({ name }) => name),
      );
    },
  };
}

/**
 * The motion of a model from its start to its first stop or the end of its time.
 *
 * The explicit pair of order 8 takes the steps, an implicit method where the model is stiff. Switching functions and
 * stops are located to 1e-13 of a step; the state there has the accuracy of a step.
 *
 * @param p one value a parameter of the model, SI, in the order of `model.parameterNames`
 * @returns fails where the start or the rates are not finite, where friction cannot be decided or a switch
 *   chatters, where no stop comes within the budget, and where it is interrupted; a motion that comes to rest for
 *   ever before its stop ends there, with a warning
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.5, II.6
 */
export function evolve(model: Model, p: Float64Array, options: EvolutionOptions = {}): Outcome<Motion> {
  return createEvolver(model).run(p, options);
}
