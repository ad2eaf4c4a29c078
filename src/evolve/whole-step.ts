import {
  type CompiledFunction,
  compileOperations,
  nodesOf,
  type ProgramWriter,
  type Tree,
} from '../expression/index.ts';
import type { EvolutionProgram } from '../model/index.ts';
import type { Node } from '../wasm/index.ts';
import { placeOf, rowOf } from './order-8-rows.ts';

/**
 * Where a step of the explicit pair stands in the vector that all code reads, behind what the program has there: its
 * start and length, the start state, and the rates of its stages.
 */
export interface StepLayout {
  readonly t: number;
  readonly h: number;
  readonly y: number;
  /** Of the rates at stage s, 1 ≤ s ≤ 13. */
  stage(s: number): number;
  /** The state at which stage 12 is taken. */
  readonly last: number;
  readonly end: number;
  readonly length: number;
}

export function layOutStep(program: EvolutionProgram): StepLayout {
  const n = program.stateNames.length;
  const t = program.inputs.length;
  const y = t + 2;
  const stage = (s: number): number => y + s * n;
  return { t, h: t + 1, y, stage, last: stage(14), end: stage(15), length: stage(16) };
}

/** A whole step in one call each: the same operations in the same order as stage by stage, so the same bits. */
export interface WholeStep {
  /** From the start of a step → the rates of stages 2 to 13, `last`, `end`, as they lie one after the other. */
  readonly attempt: CompiledFunction;
  /** From a step that was tried → the motion inside it, eight numbers a state (see `evaluatePiece`). */
  readonly extend: CompiledFunction;
}

/** So many steps of a program are taken stage by stage: before, writing its code would take longer than it saves. */
const stepsBefore = 400;
/** Equations of more parts would make a step so long that compiling it takes more than a blink. */
const mostParts = 1500;

interface Use {
  steps: number;
  whole: WholeStep | null | undefined;
}

const uses = new WeakMap<EvolutionProgram, Use>();

/** The whole step of a program, once it is worth it; null before, and where it never is. */
export function wholeStepOf(program: EvolutionProgram): WholeStep | null {
  const known = uses.get(program);
  const use = known ?? { steps: 0, whole: undefined };
  if (known === undefined) uses.set(program, use);
  if (use.whole !== undefined) return use.whole;
  use.steps++;
  if (use.steps < stepsBefore) return null;
  use.whole = isLight(program.trees.rates) ? compileStep(program) : null;
  return use.whole;
}

function isLight(rates: readonly Tree[]): boolean {
  const parts = new Set(rates.flatMap((rate) => nodesOf(rate)));
  // The work of integrals is bounded in each call, so they want a call for each stage.
  return (
    parts.size <= mostParts && ![...parts].some((part) => part.kind === 'call' && part.name === 'integrate')
  );
}

function compileStep(program: EvolutionProgram): WholeStep {
  const options = { tables: program.trees.tables };
  return {
    attempt: compileOperations(options, (writer) => {
      const step = new StepWriter(program, writer, [1]);
      for (let stage = 2; stage <= 11; stage++) step.take(stage, step.reach(`a${stage}_`));
      const last = step.reach('a12_');
      step.take(12, last);
      const end = step.reach('b');
      step.take(13, end);
      const taken = Array.from({ length: 12 }, (_, index) => step.ratesOf(index + 2));
      return [...taken.flat(), ...last, ...end];
    }),
    extend: compileOperations(options, (writer) => {
      const { graph: g } = writer;
      const step = new StepWriter(program, writer, [1, 6, 7, 8, 9, 10, 11, 12, 13]);
      for (const stage of [14, 15, 16]) step.take(stage, step.reach(`a${stage}_`));
      const { h } = step;
      return step.y.flatMap((start, i) => {
        const change = g.subtract(writer.input(step.layout.end + i), start);
        const first = step.ratesOf(1)[i];
        const both = g.add(step.ratesOf(13)[i], first);
        return [
          start,
          change,
          g.subtract(g.multiply(h, first), change),
          g.subtract(g.multiply(g.constant(2), change), g.multiply(h, both)),
          ...['d4_', 'd5_', 'd6_', 'd7_'].map((prefix) => g.multiply(h, step.combine(prefix, i))),
        ];
      });
    }),
  };
}

class StepWriter {
  readonly layout: StepLayout;
  readonly h: Node;
  readonly y: readonly Node[];
  private readonly t: Node;
  private readonly rates = new Map<number, readonly Node[]>();
  private readonly program: EvolutionProgram;
  private readonly writer: ProgramWriter;
  private readonly places: ReadonlyMap<string, number>;

  /** @param known stages whose rates stand in the inputs */
  constructor(program: EvolutionProgram, writer: ProgramWriter, known: readonly number[]) {
    this.program = program;
    this.writer = writer;
    this.layout = layOutStep(program);
    this.places = new Map(program.trees.names.map((name, index) => [name, index]));
    this.t = writer.input(this.layout.t);
    this.h = writer.input(this.layout.h);
    this.y = this.inputsFrom(this.layout.y);
    for (const stage of known) this.rates.set(stage, this.inputsFrom(this.layout.stage(stage)));
  }

  ratesOf(stage: number): readonly Node[] {
    const found = this.rates.get(stage);
    if (found === undefined) throw new Error(`Stage ${stage} is not known yet.`);
    return found;
  }

  /** Sum of the rates of state i, weighted by a row of the table. */
  combine(prefix: string, i: number): Node {
    const { graph: g } = this.writer;
    return rowOf(prefix)
      .map(([stage, coefficient]) => g.multiply(g.constant(coefficient), this.ratesOf(stage)[i]))
      .reduce((sum, term) => g.add(sum, term));
  }

  /** States reached from the start of the step by a row of the table. */
  reach(prefix: string): readonly Node[] {
    const { graph: g } = this.writer;
    return this.y.map((start, i) => g.add(start, g.multiply(this.h, this.combine(prefix, i))));
  }

  take(stage: number, states: readonly Node[]): void {
    const { writer, program } = this;
    const { graph: g } = writer;
    const { time, states: statesAt } = program.inputs;
    const moment = g.add(this.t, g.multiply(g.constant(placeOf(stage)), this.h));
    const memo = new Map<Tree, Node>();
    const nodeOf = (name: string): Node | undefined => {
      const place = this.places.get(name);
      if (place === undefined) return undefined;
      if (place === time) return moment;
      return states[place - statesAt] ?? writer.input(place);
    };
    this.rates.set(
      stage,
      program.trees.rates.map((rate) => writer.write(rate, nodeOf, memo)),
    );
  }

  private inputsFrom(place: number): readonly Node[] {
    return this.program.stateNames.map((_, index) => this.writer.input(place + index));
  }
}
