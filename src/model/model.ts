import type { Expression, Table, Tree } from '../expression/index.ts';
import type { Dimension } from '../quantity/index.ts';
import type { EvolutionProgram } from './program.ts';

/** An expression under a name. */
export interface Named {
  readonly name: string;
  readonly expression: Expression;
}

export interface NamedCondition {
  readonly name: string;
  readonly condition: Expression;
}

/** What changes all at once at the moment when a condition becomes true: a ball turns round on the floor. */
export interface NamedJump extends NamedCondition {
  /** New values of states; each is worked out from the state before the jump. */
  readonly sets: readonly Named[];
}

/** A model as it is written: how the state evolves in time. */
export interface ModelSource {
  /** Every quantity, base and derived; the values arrive in one vector, SI. */
  readonly parameters: readonly { readonly name: string; readonly dimension: Dimension }[];
  /** Helper expressions of parameters, states, the time t and one another. */
  readonly helpers: readonly Named[];
  readonly states: readonly {
    readonly name: string;
    readonly start: Expression;
    readonly rate: Expression;
  }[];
  readonly stops: readonly NamedCondition[];
  /** The time that the motion lasts, where it is given. */
  readonly lasts?: Expression;
  readonly holdsWhile: readonly NamedCondition[];
  readonly jumps?: readonly NamedJump[];
  /** What instruments look at; may use x', x''. */
  readonly signals: readonly Named[];
  readonly tables?: ReadonlyMap<string, Table>;
}

/** A model that has been checked, and is ready to evolve. */
export interface Model {
  readonly stateNames: readonly string[];
  readonly parameterNames: readonly string[];
  readonly signalNames: readonly string[];
  /** @throws RangeError for a name that is no state */
  dimensionOfState(name: string): Dimension;
  /** @throws RangeError for a name that is no signal */
  dimensionOfSignal(name: string): Dimension;
  /** The rate of each state, as written, with the helpers put in. */
  readonly rates: ReadonlyMap<string, Tree>;
  readonly program: EvolutionProgram;
}
