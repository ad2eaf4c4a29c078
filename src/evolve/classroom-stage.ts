import { type Tableau, tableaus } from './classroom-tableaus.ts';
import { evaluateRates, type Flow } from './flow.ts';

/** The step-by-step methods of the classroom. */
export type Stepper = 'forward-euler' | 'semi-implicit-euler' | 'midpoint' | 'fourth-order';

/** Takes one step of fixed length from a time and state to `end`. */
export type ClassroomStep = (t: number, h: number, state: Float64Array, end: Float64Array) => void;

/** The step of a classroom method; branches and frictions stay as they are within the step. */
export function createClassroomStep(flow: Flow, stepper: Stepper): ClassroomStep {
  return stepper === 'semi-implicit-euler'
    ? createSemiImplicitStep(flow)
    : createTableauStep(flow, tableaus[stepper]);
}

function createTableauStep(flow: Flow, { places, stages, weights }: Tableau): ClassroomStep {
  const { inputs, statesAt, stateCount: n } = flow;
  const timeAt = flow.program.inputs.time;
  const rates = places.map(() => new Float64Array(n));
  return (t, h, state, end) => {
    for (const [s, place] of places.entries()) {
      inputs[timeAt] = t + place * h;
      for (let i = 0; i < n; i++) {
        let sum = 0;
        for (const [k, share] of stages[s].entries()) sum += share * rates[k][i];
        inputs[statesAt + i] = state[i] + h * sum;
      }
      evaluateRates(flow, rates[s]);
    }
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (const [s, weight] of weights.entries()) sum += weight * rates[s][i];
      end[i] = state[i] + h * sum;
    }
  };
}

/**
 * Velocities first, then places with the new velocities.
 *
 * A place is a state whose rate is another state (times or over quantities); all else counts as a velocity. In a model
 * without places this is the forward method.
 */
function createSemiImplicitStep(flow: Flow): ClassroomStep {
  const { inputs, statesAt, stateCount: n } = flow;
  const { placeStates, inputs: layout } = flow.program;
  const rates = new Float64Array(n);
  return (t, h, state, end) => {
    inputs[layout.time] = t;
    for (let i = 0; i < n; i++) inputs[statesAt + i] = state[i];
    evaluateRates(flow, rates);
    for (let i = 0; i < n; i++) end[i] = placeStates[i] ? state[i] : state[i] + h * rates[i];
    inputs[layout.time] = t + h;
    for (let i = 0; i < n; i++) inputs[statesAt + i] = end[i];
    evaluateRates(flow, rates);
    for (let i = 0; i < n; i++) if (placeStates[i]) end[i] = state[i] + h * rates[i];
  };
}
