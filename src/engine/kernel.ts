import { type Environment, namesIn, type Tree, totalTimeDerivative } from '../expression/index.ts';
import type { EvolutionProgram, Truth } from '../model/index.ts';
import { type ByteWriter, Graph, type Node, type Slot } from '../wasm/index.ts';
import type { Asked, PerDraw } from './asked.ts';
import { Lowering } from './lower-tree.ts';
import { Routine } from './routine.ts';
import type { RowProgram } from './row-program.ts';
import { SlotList } from './slots.ts';
import { sortSwitches } from './sort-switches.ts';
import { type Assignment, type LaneFormat, type Lanes, laneFormat } from './write-block.ts';

/** Settings of an engine that are fixed when it is made. */
export interface KernelSettings {
  readonly lanes: Lanes;
  readonly relativeTolerance: number;
  /** Undefined: follows the size of each state. */
  readonly absoluteTolerance: number | undefined;
  readonly maxSteps: number;
  readonly maxTimeS: number;
}

/** What is known of a draw's row, and what is made of its readings. */
export interface KernelRows {
  /** Numbers in a row beyond the parameters. */
  readonly extraColumns: number;
  /** Parameters that are worked out from those before them. */
  readonly derived: ReadonlyMap<string, Tree>;
  /** What must be true of a draw's parameters. */
  readonly among: readonly Tree[];
  readonly reduction: RowProgram | null;
}

/** A function that is looked at while it must stay positive: a switch, or a dry friction's velocity. */
export interface Watched {
  readonly kind: 'switch' | 'friction';
  /** Of the switch or friction. */
  readonly index: number;
  /** A change of a switch at which the step must end: rates, stops or other watched functions depend on it. */
  readonly landing: boolean;
  /** Value at the start of the step, positive on the right side, and its time derivative. */
  readonly value: Slot;
  readonly slope: Slot;
  readonly endValue: Slot;
  readonly endSlope: Slot;
  /** 0: not crossed in the step; 1, 2: crossed in its first or second half. */
  readonly crossed: Slot;
  /** Share of the step at which it is crossed, or 2. */
  readonly place: Slot;
}

/** Readings that are times at which a signal passes something. */
export type Passed = Asked & { readonly kind: 'crossings' | 'passages' };

/** State of the readings of one thing asked. */
export interface AskedSlots {
  readonly count: Slot;
  /** Of a sample that is a mean: how many looks of its rule are done, and their weighted sum. */
  readonly part: Slot;
  readonly sum: Slot;
  /** Signal in spacings (in SI for passages) at the start and end of the step, and its slopes by time there. */
  readonly from: Slot;
  readonly fromSlope: Slot;
  readonly to: Slot;
  readonly toSlope: Slot;
  /** Value of the signal that counts as 0 spacings. */
  readonly base: Slot;
}

/**
 * What all routines of an engine share: the graph, the places in memory, and how names become values.
 *
 * Numbers stand in slots as doubles; flags are 1 or 0.
 */
export class Kernel {
  readonly graph = new Graph();
  readonly slots = new SlotList();
  readonly format: LaneFormat;
  readonly lowering: Lowering;
  /** A draw's row: parameters, then extra columns. */
  readonly row: readonly Slot[];
  readonly t = this.slots.moving();
  readonly h = this.slots.moving();
  readonly endS = this.slots.moving();
  readonly active = this.slots.moving();
  readonly status = this.slots.moving();
  readonly stop = this.slots.moving();
  /** 1 where readings are given, not those of a motion; the host writes it. */
  readonly isReal = this.slots.moving();
  readonly firstStep = this.slots.moving();
  /** Of the step last tried: whether it is taken, its length, the next length, whether it ends the time. */
  readonly accepted = this.slots.moving();
  readonly tried = this.slots.moving();
  readonly proposed = this.slots.moving();
  readonly reaches = this.slots.moving();
  /** Share of the step up to which the motion goes: 1, or a hair from it where a switch is met. */
  readonly limit = this.slots.moving();
  readonly stopped = this.slots.moving();
  /** 1 + index of the watched function on whose change the step is meant to end, or 0. */
  readonly landing = this.slots.moving();
  readonly afterLanding = this.slots.moving();
  readonly halvings = this.slots.moving();
  /** The step could not be judged and is not taken. */
  readonly doubt = this.slots.moving();
  readonly states: readonly Slot[];
  readonly rates: readonly Slot[];
  readonly endStates: readonly Slot[];
  readonly endRates: readonly Slot[];
  readonly absolute: readonly Slot[];
  /** Rates at the stages of the step last tried, by their number; those from which the motion inside is made. */
  readonly stages: readonly (readonly Slot[])[];
  /** Whether the motion inside the step last taken is looked at. */
  readonly looks = this.slots.moving();
  /** Eight a state, as `evaluatePiece` of the evolution reads them. */
  readonly piece: readonly (readonly Slot[])[];
  readonly branches: readonly Slot[];
  readonly slips: readonly Slot[];
  readonly failedAt: readonly Slot[];
  readonly failedState: readonly (readonly Slot[])[];
  readonly watched: readonly Watched[];
  readonly asked: readonly AskedSlots[];
  /** What the routine of the rates reads and writes. */
  readonly argumentT = this.slots.moving();
  readonly argumentStates: readonly Slot[];
  readonly resultRates: readonly Slot[];
  readonly bodies: (ByteWriter | undefined)[] = [];
  private readonly fixedNames = new Map<string, Node>();
  /** What the row program takes parameters for. */
  private readonly reducedNames: ReadonlyMap<string, Node>;
  private readonly signSwitches: ReadonlySet<number>;
  readonly program: EvolutionProgram;
  readonly settings: KernelSettings;
  /** As `asked`: what the slots there are for. */
  readonly wanted: readonly Asked[];
  readonly rows: KernelRows;

  constructor(
    program: EvolutionProgram,
    asked: readonly Asked[],
    rows: KernelRows,
    settings: KernelSettings,
  ) {
    const { slots, graph: g } = this;
    const { trees } = program;
    this.program = program;
    this.settings = settings;
    this.wanted = asked;
    this.rows = rows;
    const mostRows = asked.reduce((most, wanted) => Math.max(most, wanted.most), 0);
    const made = rows.reduction?.steps.filter(({ kind }) => kind === 'column' || kind === 'given') ?? [];
    this.format = laneFormat(settings.lanes, [...asked.map(({ most }) => most), ...made.map(() => mostRows)]);
    const n = program.stateNames.length;
    const parameters = trees.names.slice(
      program.inputs.parameters,
      program.inputs.parameters + program.parameterCount,
    );
    this.lowering = new Lowering(g, slots, new Set(parameters));
    this.row = Array.from({ length: program.parameterCount + rows.extraColumns }, () => slots.fixed());
    this.states = slots.movingMany(n);
    this.rates = slots.movingMany(n);
    this.endStates = slots.movingMany(n);
    this.endRates = slots.movingMany(n);
    this.absolute = slots.movingMany(n);
    this.stages = Array.from({ length: 17 }, () => slots.movingMany(n));
    this.piece = this.states.map(() => slots.movingMany(8));
    this.branches = slots.movingMany(program.switches.length);
    this.slips = slots.movingMany(program.frictions.length);
    this.failedAt = slots.movingMany(program.holdsWhile.length);
    this.failedState = program.holdsWhile.map(() => slots.movingMany(n));
    this.argumentStates = slots.movingMany(n);
    this.resultRates = slots.movingMany(n);
    this.asked = asked.map(() => ({
      count: slots.moving(),
      part: slots.moving(),
      sum: slots.moving(),
      from: slots.moving(),
      fromSlope: slots.moving(),
      to: slots.moving(),
      toSlope: slots.moving(),
      base: slots.moving(),
    }));
    for (const [index, name] of parameters.entries()) this.fixedNames.set(name, g.load(this.row[index]));
    this.derive(this.fixedNames);
    this.reducedNames = this.namesOfReduction(parameters);
    for (const [index, tree] of trees.constants.entries()) {
      const name = trees.names[program.inputs.constants + index];
      this.fixedNames.set(
        name,
        this.lowering.write(tree, (wanted) => this.fixedNames.get(wanted)),
      );
    }
    const { landing, watching } = sortSwitches(program);
    this.signSwitches = new Set(
      program.switches.map((_, index) => index).filter((index) => !watching.has(index)),
    );
    const watch = (kind: 'switch' | 'friction', index: number): Watched => ({
      kind,
      index,
      landing: kind === 'switch' && landing.has(index),
      value: slots.moving(),
      slope: slots.moving(),
      endValue: slots.moving(),
      endSlope: slots.moving(),
      crossed: slots.moving(),
      place: slots.moving(),
    });
    this.watched = [
      ...[...watching].sort((a, b) => a - b).map((index) => watch('switch', index)),
      ...program.frictions.map((_, index) => watch('friction', index)),
    ];
  }

  private derive(names: Map<string, Node>): void {
    for (const [name, tree] of this.rows.derived) {
      names.set(
        name,
        this.lowering.write(tree, (wanted) => names.get(wanted)),
      );
    }
  }

  private namesOfReduction(parameters: readonly string[]): ReadonlyMap<string, Node> {
    const takes = this.rows.reduction?.takes;
    if (takes === undefined || takes.size === 0) return this.fixedNames;
    const names = new Map<string, Node>();
    for (const [index, name] of parameters.entries()) {
      names.set(name, this.graph.load(this.row[takes.get(name) ?? index]));
    }
    this.derive(names);
    return names;
  }

  reserve(): number {
    return this.bodies.push(undefined) - 1;
  }

  /** Writes the function that was reserved under an index. */
  define(index: number, write: (routine: Routine) => void): void {
    const routine = new Routine(this.format);
    write(routine);
    this.bodies[index] = routine.finish();
  }

  load(slot: Slot): Node {
    return this.graph.load(slot);
  }

  /** Whether a flag is set. */
  isSet(slot: Slot): Node {
    return this.graph.notEqual(this.load(slot), this.graph.constant(0));
  }

  perDraw(value: PerDraw): Node {
    if (typeof value === 'number') return this.graph.constant(value);
    return 'tree' in value ? this.onceADraw(value.tree) : this.load(this.row[value.column]);
  }

  /** One over a spacing, worked out once a draw; 1 where levels are given in the signal's own unit. */
  perSpacing(wanted: Passed): Node {
    const { graph: g } = this;
    if (wanted.kind === 'passages') return g.constant(1);
    return this.lowering.settle(g.divide(g.constant(1), this.perDraw(wanted.spacing)));
  }

  /** The level that is passed after so many others; none, that is infinity, after the last. */
  levelAfter({ levels }: Asked & { kind: 'passages' }, passed: Node): Node {
    const { graph: g } = this;
    return levels.reduceRight<Node>(
      (rest, level, index) => g.select(g.equal(passed, g.constant(index)), this.perDraw(level), rest),
      g.constant(Number.POSITIVE_INFINITY),
    );
  }

  /** Ends some draws with a status, and leaves the others as they are. */
  endDraw(mask: Node, status: number): readonly Assignment[] {
    const { graph: g } = this;
    return [
      [this.active, g.select(mask, g.constant(0), this.load(this.active))],
      [this.status, g.select(mask, g.constant(status), this.load(this.status))],
    ];
  }

  /** Whether any stop is true under the branches given, and the index of the first that is (or −1). */
  stopsTrue(branches: readonly Node[]): { readonly stops: Node; readonly stop: Node } {
    const { graph: g } = this;
    let stop = g.constant(-1);
    for (let index = this.program.stops.length - 1; index >= 0; index--) {
      stop = g.select(this.isTrue(this.program.stops[index].truth, branches), g.constant(index), stop);
    }
    return { stops: g.lessOrEqual(g.constant(0), stop), stop };
  }

  /** Notes where a `holds while` is false and was not before. */
  noteFailure(
    index: number,
    mask: Node,
    branches: readonly Node[],
    t: Node,
    states: readonly Node[],
  ): readonly Assignment[] {
    const { graph: g } = this;
    const known = this.load(this.failedAt[index]);
    const fails = g.not(this.isTrue(this.program.holdsWhile[index].truth, branches));
    const isNew = g.and(mask, g.and(fails, g.notEqual(known, known)));
    return [
      [this.failedAt[index], g.select(isNew, t, known)],
      ...this.failedState[index].map(
        (slot, i): Assignment => [slot, g.select(isNew, states[i], this.load(slot))],
      ),
    ];
  }

  /** A value that is worked out once a draw from its row, as it is looked at later. */
  onceADraw(tree: Tree): Node {
    return this.lowering.lower(tree, (name) => this.fixedNames.get(name));
  }

  /** Whether a signal's branches are those that the steps end on, so that it is smooth within each step. */
  isSmooth(signal: number): boolean {
    const { trees, inputs, switches } = this.program;
    const names = namesIn(trees.signals[signal]);
    return switches.every(
      (_, index) =>
        !names.has(trees.names[inputs.branches + index]) ||
        this.watched.some(
          (watched) => watched.kind === 'switch' && watched.index === index && watched.landing,
        ),
    );
  }

  /** The trees of a model at one moment: worked out once each, from the time and the states given. */
  at(t: Node, states: readonly Node[], change: BranchChange = {}): Moment {
    return new Moment(this, t, states, change);
  }

  /** States at a share of the step last tried. */
  statesInStep(theta: Node): readonly Node[] {
    const { graph: g } = this;
    const rest = g.subtract(g.constant(1), theta);
    return this.piece.map((terms) => {
      const c = terms.map((slot) => this.load(slot));
      const inner = g.add(
        c[4],
        g.multiply(theta, g.add(c[5], g.multiply(rest, g.add(c[6], g.multiply(theta, c[7]))))),
      );
      const outer = g.add(c[2], g.multiply(theta, g.add(c[3], g.multiply(rest, inner))));
      return g.add(c[0], g.multiply(theta, g.add(c[1], g.multiply(rest, outer))));
    });
  }

  momentInStep(theta: Node): Moment {
    const { graph: g } = this;
    const t = g.add(this.load(this.t), g.multiply(theta, this.load(this.tried)));
    return this.at(t, this.statesInStep(theta));
  }

  /** A parameter as the row program takes it. */
  reducedName(name: string): Node | undefined {
    return this.reducedNames.get(name);
  }

  fixedName(name: string): Node | undefined {
    return this.fixedNames.get(name);
  }

  goesBySign(switchIndex: number): boolean {
    return this.signSwitches.has(switchIndex);
  }

  /** Whether a condition is true under the branches given (or those in force). */
  isTrue(truth: Truth, branches: readonly Node[] = this.branches.map((slot) => this.load(slot))): Node {
    const { graph: g } = this;
    switch (truth.kind) {
      case 'side': {
        const side = g.multiply(g.constant(truth.sign), branches[truth.switch]);
        const zero = g.constant(0);
        return truth.atZero ? g.lessOrEqual(zero, side) : g.less(zero, side);
      }
      case 'and':
        return g.and(this.isTrue(truth.left, branches), this.isTrue(truth.right, branches));
      case 'or':
        return g.or(this.isTrue(truth.left, branches), this.isTrue(truth.right, branches));
      case 'not':
        return g.not(this.isTrue(truth.operand, branches));
    }
  }
}

/** Branches and slips other than those in force. */
export interface BranchChange {
  readonly branches?: readonly Node[];
  readonly slips?: readonly Node[];
}

export class Moment {
  private readonly memo = new Map<Tree, Node>();
  private readonly names = new Map<string, Node>();
  private readonly signNames = new Map<string, number>();
  private readonly kernel: Kernel;
  readonly branches: readonly Node[];
  readonly slips: readonly Node[];

  constructor(kernel: Kernel, t: Node, states: readonly Node[], change: BranchChange) {
    this.kernel = kernel;
    const { names: inputs } = kernel.program.trees;
    const layout = kernel.program.inputs;
    this.branches = change.branches ?? kernel.branches.map((slot) => kernel.load(slot));
    this.slips = change.slips ?? kernel.slips.map((slot) => kernel.load(slot));
    this.names.set(inputs[layout.time], t);
    for (const [index, node] of states.entries()) this.names.set(inputs[layout.states + index], node);
    for (const [index, node] of this.branches.entries()) {
      const name = inputs[layout.branches + index];
      if (change.branches === undefined && kernel.goesBySign(index)) this.signNames.set(name, index);
      else this.names.set(name, node);
    }
    for (const [index, node] of this.slips.entries()) {
      this.names.set(inputs[layout.slips + index], node);
      this.names.set(inputs[layout.holdings + index], kernel.graph.constant(0));
    }
  }

  value(tree: Tree): Node {
    const environment: Environment = (name) =>
      this.names.get(name) ?? this.side(name) ?? this.kernel.fixedName(name);
    return this.kernel.lowering.lower(tree, environment, this.memo);
  }

  values(trees: readonly Tree[]): readonly Node[] {
    return trees.map((tree) => this.value(tree));
  }

  get rates(): readonly Node[] {
    return this.values(this.kernel.program.trees.rates);
  }

  /** A watched function, positive on the right side, and its time derivative. */
  watched(watched: Watched): readonly [value: Node, slope: Node] {
    const { graph: g, program } = this.kernel;
    const { trees } = program;
    const { index } = watched;
    if (watched.kind === 'friction') {
      const slip = this.slips[index];
      return [
        g.multiply(slip, this.value(trees.velocities[index])),
        g.multiply(slip, this.value(trees.velocitySlopes[index])),
      ];
    }
    const side = this.branches[index];
    const value = g.multiply(side, this.value(trees.margins[index]));
    const slope = g.multiply(side, this.value(trees.marginSlopes[index]));
    const { friction } = program.switches[index];
    if (friction < 0) return [value, slope];
    // A switch that goes with a friction which slips is watched through that friction.
    const follows = g.notEqual(this.slips[friction], g.constant(0));
    return [g.select(follows, g.constant(1), value), g.select(follows, g.constant(0), slope)];
  }

  signal(index: number): Node {
    return this.value(this.kernel.program.trees.signals[index]);
  }

  /** Rate of change of a signal. */
  signalSlope(index: number): Node {
    return this.value(slopeOfSignal(this.kernel.program, index));
  }

  /** The branch of a switch that is not followed: the sign of its function here and now. */
  private side(name: string): Node | undefined {
    const index = this.signNames.get(name);
    if (index === undefined) return undefined;
    const { graph: g, program } = this.kernel;
    const margin = this.value(program.trees.margins[index]);
    const below = g.select(g.less(margin, g.constant(0)), g.constant(-1), g.constant(0));
    const side = g.select(g.less(g.constant(0), margin), g.constant(1), below);
    this.names.set(name, side);
    return side;
  }
}

const signalSlopes = new WeakMap<EvolutionProgram, Map<number, Tree>>();

function slopeOfSignal(program: EvolutionProgram, index: number): Tree {
  const known = signalSlopes.get(program) ?? new Map<number, Tree>();
  signalSlopes.set(program, known);
  const { trees, stateNames } = program;
  const slope =
    known.get(index) ??
    totalTimeDerivative(trees.signals[index], new Map(stateNames.map((name, i) => [name, trees.rates[i]])));
  known.set(index, slope);
  return slope;
}
