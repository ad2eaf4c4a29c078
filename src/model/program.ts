import type { Table, Tree } from '../expression/index.ts';
import type { Place } from '../problem/index.ts';

/** Generated code: reads the inputs, writes the outputs from index 0 on. Allocates nothing. */
export type Evaluate = (inputs: Float64Array, outputs: Float64Array) => void;

/**
 * Where each group of numbers stands in the one vector that all generated code reads.
 *
 * The time stands first, then the states, so that an integrator can write a stage directly into its place.
 */
export interface InputLayout {
  readonly time: number;
  readonly states: number;
  readonly parameters: number;
  /** Subexpressions of parameters alone, computed once a motion. */
  readonly constants: number;
  /** One branch a switch: −1, +1, or 0 where the switching function stays exactly on its zero. */
  readonly branches: number;
  /** One direction a dry friction: −1 or +1 while it slips, 0 while it sticks or is switched off. */
  readonly slips: number;
  /** One share of its limits a dry friction: what holds the velocity while it sticks, 0 otherwise. */
  readonly holdings: number;
  readonly length: number;
}

/**
 * A switching function: an expression whose sign chooses a branch of the model.
 *
 * Inside a step the branch is fixed, so that the right side is smooth; its zero is located as an event.
 */
export interface Switch {
  /** The switching function as text, for messages: 'v', 'x - 0.2'. */
  readonly text: string;
  readonly place: Place;
  /** The rates depend on the branch: the evolution restarts where it changes. */
  readonly steersRates: boolean;
  /** A signal depends on the branch: the change is a break of the signals. */
  readonly steersSignals: boolean;
  /** The dry friction whose velocity is this switching function (times `frictionSign`), or −1. */
  readonly friction: number;
  readonly frictionSign: number;
}

/**
 * All dry friction on one velocity. Each of its `dry(limit, velocity)` is its limit times one share, the same for all:
 * ±1 while it slips, what holds the velocity while it sticks.
 */
export interface DryFriction {
  readonly limits: readonly { readonly text: string; readonly place: Place }[];
  /** The state that is its velocity, so that sticking can set it to exactly 0; −1 where it is an expression. */
  readonly velocityState: number;
  /** Index in the inputs of a value of parameters alone that is 0 where all limits are (the friction is off), or −1. */
  readonly factor: number;
}

/** A condition as logic over the branches of switches. */
export type Truth =
  | { readonly kind: 'side'; readonly switch: number; readonly sign: number; readonly atZero: boolean }
  | { readonly kind: 'and' | 'or'; readonly left: Truth; readonly right: Truth }
  | { readonly kind: 'not'; readonly operand: Truth };

export interface Condition {
  readonly name: string;
  readonly place: Place;
  readonly truth: Truth;
}

/** New values for some states, at the moment when a condition becomes true. */
export interface Jump extends Condition {
  /** Which states are set. */
  readonly states: readonly number[];
  /** → one value a set state, from the inputs as they stand before the jump. */
  readonly values: Evaluate;
  readonly trees: readonly Tree[];
}

/**
 * The trees from which the code of a program is generated, for those who generate code of their own.
 *
 * Branches are taken out and parts of parameters alone are hoisted: names that no user can write stand for them.
 */
export interface ProgramTrees {
  /** What stands at each place of the input vector: time, states, parameters, constants, branches, slips, holdings. */
  readonly names: readonly string[];
  readonly tables: ReadonlyMap<string, Table>;
  readonly constants: readonly Tree[];
  readonly starts: readonly Tree[];
  readonly lasts: Tree | null;
  readonly rates: readonly Tree[];
  /** One a switch: the switching function, and its time derivative. */
  readonly margins: readonly Tree[];
  readonly marginSlopes: readonly Tree[];
  /** One a dry friction: its velocity, and its time derivative. */
  readonly velocities: readonly Tree[];
  readonly velocitySlopes: readonly Tree[];
  /** As `EvolutionProgram.friction` gives them: q, q × q and q. */
  readonly freeRates: readonly Tree[];
  readonly influences: readonly Tree[];
  readonly limits: readonly Tree[];
  readonly signals: readonly Tree[];
}

/**
 * A model made ready to evolve: generated code over one input vector, and what switches it.
 *
 * Sizes: n states, m switches, q dry frictions.
 */
export interface EvolutionProgram {
  readonly inputs: InputLayout;
  readonly stateNames: readonly string[];
  /** The SI unit of each state as text, for messages; '' where dimensionless. */
  readonly stateUnits: readonly string[];
  readonly parameterCount: number;
  readonly constantCount: number;
  readonly switches: readonly Switch[];
  readonly frictions: readonly DryFriction[];
  readonly stops: readonly Condition[];
  readonly holdsWhile: readonly Condition[];
  readonly jumps: readonly Jump[];
  /** True where neither rates nor switching functions contain the time. */
  readonly autonomous: boolean;
  /** True where the rates contain the time: something acts on the model from outside. */
  readonly isDriven: boolean;
  /** For each state, whether its rate is another state times a constant: a place beside its velocity. */
  readonly placeStates: readonly boolean[];

  /** → constants, from the parameters; null where there are none. */
  readonly constants: Evaluate | null;
  /** → n start values, from parameters and constants. */
  readonly start: Evaluate;
  /** → the end time in s; null where only stops end the motion. */
  readonly lasts: Evaluate | null;
  /** → n rates. */
  readonly rates: Evaluate;
  /**
   * → n × n derivatives of the rates by the states, row-major; compiled at the first call, null where they have no
   * formula of bearable size.
   */
  readonly jacobian: () => Evaluate | null;
  /** → m switching functions, their m time derivatives, q velocities, their q time derivatives; null where none. */
  readonly watch: Evaluate | null;
  /**
   * → what the holding shares must solve, all taken without them: the q rates of change of the velocities, their q × q
   * derivatives by the shares (row-major), every limit, friction by friction; null where there is no dry friction.
   */
  readonly friction: Evaluate | null;
  /** One a signal: → its value. */
  readonly signals: readonly Evaluate[];
  readonly trees: ProgramTrees;
}
