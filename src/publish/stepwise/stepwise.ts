import type { Table, Tree } from '../../expression/index.ts';
import type { Unit } from '../../quantity/index.ts';

/** A quantity whose value a reader may change. */
export interface StepwiseInput {
  readonly name: string;
  readonly is: string;
  /** SI. */
  readonly value: number;
  /** SI. */
  readonly standardUncertainty: number;
  readonly unit: Unit;
}

/** A name for an expression: a computed quantity, or a part of a rate. */
export interface StepwiseTerm {
  readonly name: string;
  readonly is: string;
  readonly tree: Tree;
  readonly unit: Unit;
}

/** Something that changes with time, and how fast. */
export interface StepwiseState {
  readonly name: string;
  readonly unit: Unit;
  readonly start: Tree;
  /** Dry friction stands in it as its limit times the name of its share. */
  readonly rate: Tree;
  /** A place is stepped with the new speeds, where the method says so. */
  readonly isPlace: boolean;
}

/** Dry friction on one velocity: a share of its limit, from −1 to 1, that stops the body or holds it back in full. */
export interface StepwiseFriction {
  readonly share: string;
  readonly velocity: string;
  /** Rate of the velocity without this friction. */
  readonly free: Tree;
  /** The rate with all of it against the motion; the same where there is no friction. */
  readonly full: Tree;
}

/** The motion ends where `margin` grows beyond 0. */
export interface StepwiseStop {
  readonly name: string;
  readonly margin: Tree;
}

/** New values for some states at the end of the step in which `margin` grows beyond 0. */
export interface StepwiseJump {
  readonly name: string;
  readonly margin: Tree;
  /** Each is worked out from the values before the jump. */
  readonly sets: readonly { readonly state: string; readonly tree: Tree }[];
}

/**
 * The model as a class steps it: everything that a spreadsheet or a short program needs, all in SI.
 *
 * Every tree holds only names of inputs, of computed quantities and terms before it, of states, of shares, and t.
 */
export interface StepwiseModel {
  readonly method: 'forward-euler' | 'semi-implicit-euler';
  readonly stepS: number;
  readonly inputs: readonly StepwiseInput[];
  readonly computed: readonly StepwiseTerm[];
  readonly terms: readonly StepwiseTerm[];
  readonly states: readonly StepwiseState[];
  readonly frictions: readonly StepwiseFriction[];
  readonly stops: readonly StepwiseStop[];
  readonly jumps: readonly StepwiseJump[];
  /** The time that the motion lasts, where it is given. */
  readonly lasts: Tree | null;
  readonly tables: ReadonlyMap<string, Table>;
}
