import type { Tree } from '../expression/index.ts';
import type { Node, Slot } from '../wasm/index.ts';
import { drawStatus } from './asked.ts';
import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import type { GivenColumn, RowProgram, RowStep } from './row-program.ts';
import type { Assignment } from './write-block.ts';

/** More rows than any column has: a bound, not a limit. */
const mostRows = 0x3fffffff;

/** Rows that belong together, of which steps leave out some. */
interface RowSet {
  readonly of: string;
  readonly count: Slot;
  /** First row that is left, and the one after the last, where windows have moved them; null as they were. */
  first: Slot | null;
  end: Slot | null;
  /** Rows left out at both ends for want of neighbours. */
  readonly trimmed: { first: number; last: number };
  /** What must be true of rows that are left. */
  readonly kept: Scoped[];
  /** Columns and requirements for the next loop over the rows. */
  readonly waiting: MadeColumn[];
  readonly requires: { readonly that: Scoped; readonly inside: Node }[];
  /** Whether rows were left out without a later step that needs one. */
  unproven: boolean;
}

/** What names stood for where an expression was written: a name may be given anew later. */
type Names = ReadonlyMap<string, Named>;

interface Scoped {
  readonly tree: Tree;
  readonly names: Names;
}

interface MadeColumn {
  readonly kind: 'column';
  readonly rows: RowSet;
  readonly column: number;
  readonly of: Scoped | null;
  isStored: boolean;
}

type Named =
  | MadeColumn
  | { readonly kind: 'shifted'; readonly rows: RowSet; readonly of: Named; readonly by: number }
  | { readonly kind: 'number'; readonly rows: RowSet }
  | { readonly kind: 'scalar'; readonly slot: Slot };

/** Where the routine leaves what it found. */
export interface RowResults {
  /** 1 where the steps could be followed. */
  readonly reduced: Slot;
  readonly scalars: readonly Slot[];
  /** Columns that the host fills where readings are given. */
  readonly given: readonly (GivenColumn & { readonly index: number })[];
}

/** Writes the routine that takes the readings of all lanes through the steps of a row program. */
export function writeRows(kernel: Kernel, routine: Routine, program: RowProgram): RowResults {
  return new RowWriter(kernel, routine, program.asked).write(program);
}

class RowWriter {
  private readonly kernel: Kernel;
  private readonly routine: Routine;
  private names: Names = new Map();
  private readonly sets: RowSet[] = [];
  private readonly reduced: Slot;
  private readonly rowNumber: Slot;
  private readonly asked: readonly string[];
  private readonly given: RowResults['given'][number][] = [];
  private nextColumn: number;

  constructor(kernel: Kernel, routine: Routine, asked: readonly string[]) {
    this.kernel = kernel;
    this.routine = routine;
    this.asked = asked;
    this.reduced = kernel.slots.moving();
    this.rowNumber = kernel.slots.moving();
    this.nextColumn = kernel.wanted.length;
  }

  write({ steps, gives }: RowProgram): RowResults {
    const { graph: g } = this.kernel;
    const isDone = g.equal(this.kernel.load(this.kernel.status), g.constant(drawStatus.ok));
    this.routine.assign([this.reduced, g.select(isDone, g.constant(1), g.constant(0))]);
    for (const step of steps) this.writeStep(step);
    for (const rows of this.sets) {
      if (rows.unproven) this.requireSome(rows);
      else if (rows.requires.length > 0) this.writeLoop(rows, () => []);
    }
    const scalars = gives.map((name) => this.scalarNamed(name));
    const finite = scalars.map((slot) =>
      g.less(g.abs(this.kernel.load(slot)), g.constant(Number.POSITIVE_INFINITY)),
    );
    this.demand(finite.reduce((a, b) => g.and(a, b), this.always()));
    return { reduced: this.reduced, scalars, given: this.given };
  }

  private writeStep(step: RowStep): void {
    switch (step.kind) {
      case 'series': {
        const index = this.asked.indexOf(step.of);
        if (index < 0) throw new Error(`Nothing asked is named "${step.of}".`);
        const { count } = this.kernel.asked[index];
        const rows: RowSet = {
          of: step.of,
          count,
          first: null,
          end: null,
          trimmed: { first: 0, last: 0 },
          kept: [],
          waiting: [],
          requires: [],
          unproven: false,
        };
        this.sets.push(rows);
        this.define(step.name, { kind: 'column', rows, column: index, of: null, isStored: true });
        return;
      }
      case 'given': {
        const rows = this.rowsOf(step.like);
        const column = this.nextColumn++;
        this.given.push({ of: rows.of, column: step.column, index: column });
        this.define(step.name, { kind: 'column', rows, column, of: null, isStored: true });
        return;
      }
      case 'real':
        this.define(step.name, { kind: 'scalar', slot: this.kernel.isReal });
        return;
      case 'number':
        this.define(step.name, { kind: 'number', rows: this.rowsOf(step.like) });
        return;
      case 'shifted':
        this.define(step.name, {
          kind: 'shifted',
          rows: this.rowsOf(step.of),
          of: this.named(step.of),
          by: step.by,
        });
        return;
      case 'column': {
        const rows = this.rowsOf(step.like);
        const made: MadeColumn = {
          kind: 'column',
          rows,
          column: this.nextColumn++,
          of: this.scoped(step.of),
          isStored: false,
        };
        rows.waiting.push(made);
        this.define(step.name, made);
        return;
      }
      case 'trim': {
        const { trimmed } = this.rowsOf(step.like);
        trimmed.first += step.first;
        trimmed.last += step.last;
        return;
      }
      case 'require': {
        const rows = this.rowsOf(step.like);
        rows.requires.push({
          that: this.scoped(step.that),
          inside: this.isBetween(rows, step.after, step.before),
        });
        return;
      }
      case 'at least': {
        const { graph: g } = this.kernel;
        const count = this.kernel.load(this.rowsOf(step.like).count);
        this.demand(g.lessOrEqual(g.constant(step.rows), count));
        return;
      }
      case 'keep': {
        const rows = this.rowsOf(step.like);
        rows.kept.push(this.scoped(step.where));
        rows.unproven = true;
        return;
      }
      case 'keep between':
        this.writeBetween(this.rowsOf(step.like), step);
        return;
      case 'line':
        this.writeLine(this.rowsOf(step.like), step);
        return;
      case 'mean':
        this.writeMean(this.rowsOf(step.like), step);
        return;
      case 'largest':
        this.writeLargest(this.rowsOf(step.like), step);
        return;
      case 'scalar':
        this.give(step.gives, this.lower(step.of));
        this.demand(this.isFinite(this.kernel.load(this.scalarNamed(step.gives))));
        return;
    }
  }

  /** Finds the first row of a window and the one after its last. */
  private writeBetween(rows: RowSet, { from, to }: RowStep & { kind: 'keep between' }): void {
    const { graph: g, slots } = this.kernel;
    const none = g.constant(Number.POSITIVE_INFINITY);
    const first = slots.moving();
    const end = slots.moving();
    const row = this.row();
    this.routine.assign([first, from === null ? g.constant(0) : none], [end, none]);
    this.writeLoop(rows, (left) => {
      const known = this.kernel.load(first);
      const starts = from === null ? known : g.min(known, g.select(g.and(left, this.test(from)), row, none));
      if (to === null) return [[first, starts]];
      const ends = g.and(g.and(left, g.lessOrEqual(starts, row)), this.test(to));
      return [
        [first, starts],
        [end, g.min(this.kernel.load(end), g.select(ends, row, none))],
      ];
    });
    const isNarrower = (before: Slot | null, found: Slot, pick: 'max' | 'min'): Node =>
      before === null ? this.kernel.load(found) : g[pick](this.kernel.load(before), this.kernel.load(found));
    this.routine.assign(
      [first, isNarrower(rows.first, first, 'max')],
      [end, isNarrower(rows.end, end, 'min')],
    );
    rows.first = first;
    rows.end = end;
    rows.unproven = true;
  }

  /** As `fitLineInto`: means first, then sums of products of deviations, with the rounding of the means taken back. */
  private writeLine(rows: RowSet, step: RowStep & { kind: 'line' }): void {
    const { graph: g, slots } = this.kernel;
    const [n, meanX, meanY, restX, restY, xx, xy] = slots.movingMany(7);
    const load = (slot: Slot): Node => this.kernel.load(slot);
    const zero = g.constant(0);
    this.routine.assign([n, zero], [meanX, zero], [meanY, zero]);
    this.writeLoop(rows, (left) => [
      [n, g.add(load(n), g.select(left, g.constant(1), zero))],
      [meanX, g.add(load(meanX), g.select(left, this.lower(step.against), zero))],
      [meanY, g.add(load(meanY), g.select(left, this.lower(step.of), zero))],
    ]);
    this.routine.assign(
      [meanX, g.divide(load(meanX), load(n))],
      [meanY, g.divide(load(meanY), load(n))],
      [restX, zero],
      [restY, zero],
      [xx, zero],
      [xy, zero],
    );
    this.writeLoop(rows, (left) => {
      const dx = g.subtract(this.lower(step.against), load(meanX));
      const dy = g.subtract(this.lower(step.of), load(meanY));
      return [
        [restX, g.add(load(restX), g.select(left, dx, zero))],
        [restY, g.add(load(restY), g.select(left, dy, zero))],
        [xx, g.add(load(xx), g.select(left, g.multiply(dx, dx), zero))],
        [xy, g.add(load(xy), g.select(left, g.multiply(dx, dy), zero))],
      ];
    });
    const share = (rest: Slot): Node => g.divide(g.multiply(load(restX), load(rest)), load(n));
    const square = g.subtract(load(xx), share(restX));
    const product = g.subtract(load(xy), share(restY));
    const slope = g.divide(product, square);
    const x = g.add(load(meanX), g.divide(load(restX), load(n)));
    const y = g.add(load(meanY), g.divide(load(restY), load(n)));
    const enough = g.lessOrEqual(g.constant(3), load(n));
    this.demand(g.and(g.and(enough, g.less(zero, square)), this.isFinite(slope)));
    if (step.slope !== null) this.give(step.slope, slope);
    if (step.intercept !== null) this.give(step.intercept, g.subtract(y, g.multiply(slope, x)));
    rows.unproven = false;
  }

  /** As `meanOf`: deviations from the first reading keep the digits. */
  private writeMean(rows: RowSet, step: RowStep & { kind: 'mean' }): void {
    const { graph: g, slots } = this.kernel;
    const [n, base, sum] = slots.movingMany(3);
    const load = (slot: Slot): Node => this.kernel.load(slot);
    const zero = g.constant(0);
    const counts = (left: Node): Node => (step.where === null ? left : g.and(left, this.test(step.where)));
    this.routine.assign([n, zero], [base, zero], [sum, zero]);
    this.writeLoop(rows, (left) => {
      const counted = counts(left);
      const value = this.lower(step.of);
      const isFirst = g.and(counted, g.equal(load(n), zero));
      return [
        [base, g.select(isFirst, value, load(base))],
        [n, g.add(load(n), g.select(counted, g.constant(1), zero))],
        ...this.refuse(g.and(counted, g.not(this.isFinite(value)))),
      ];
    });
    this.writeLoop(rows, (left) => [
      [sum, g.add(load(sum), g.select(counts(left), g.subtract(this.lower(step.of), load(base)), zero))],
    ]);
    this.demand(g.less(zero, load(n)));
    this.give(step.gives, g.add(load(base), g.divide(load(sum), load(n))));
    rows.unproven = false;
  }

  private writeLargest(rows: RowSet, step: RowStep & { kind: 'largest' }): void {
    const { graph: g } = this.kernel;
    const top = this.kernel.slots.moving();
    this.routine.assign([top, g.constant(Number.NEGATIVE_INFINITY)]);
    this.writeLoop(rows, (left) => {
      const value = this.lower(step.of);
      const known = this.kernel.load(top);
      return [
        [top, g.select(g.and(left, g.less(known, value)), value, known)],
        ...this.refuse(g.and(left, g.not(this.isFinite(value)))),
      ];
    });
    this.demand(this.isFinite(this.kernel.load(top)));
    this.give(step.gives, this.kernel.load(top));
    rows.unproven = false;
  }

  private requireSome(rows: RowSet): void {
    const { graph: g } = this.kernel;
    const n = this.kernel.slots.moving();
    this.routine.assign([n, g.constant(0)]);
    this.writeLoop(rows, (left) => [
      [n, g.add(this.kernel.load(n), g.select(left, g.constant(1), g.constant(0)))],
    ]);
    this.demand(g.less(g.constant(0), this.kernel.load(n)));
  }

  /**
   * A loop over all rows of a set; columns that wait are worked out and stored on the way, requirements looked at.
   *
   * @param body what is put where at a row, given whether the row is left
   */
  private writeLoop(rows: RowSet, body: (left: Node) => readonly Assignment[]): void {
    const { graph: g } = this.kernel;
    const row = this.row();
    const isThere = g.less(row, this.kernel.load(rows.count));
    const one = g.constant(1);
    this.routine.assign([this.rowNumber, g.constant(0)]);
    this.routine.whileRows(isThere, mostRows, () => {
      const refused = rows.requires.map(({ that, inside }) => g.and(inside, g.not(this.testScoped(that))));
      const assignments = [
        ...rows.waiting.map(
          (made): Assignment => [{ column: made.column, shift: 0 }, this.valueOfColumn(made, 0)],
        ),
        ...body(this.isLeft(rows)),
      ];
      // Both a body and the requirements may refuse a draw; there is one place for it.
      const own = assignments.filter(([place]) => place !== this.reduced);
      const refusals = assignments.filter(([place]) => place === this.reduced).map(([, value]) => value);
      const isRefused = refused.length === 0 ? null : refused.reduce((a, b) => g.or(a, b));
      let reduced = refusals.reduce<Node | null>(
        (all, value) => (all === null ? value : g.min(all, value)),
        null,
      );
      if (isRefused !== null) {
        reduced = g.select(isRefused, g.constant(0), reduced ?? this.kernel.load(this.reduced));
      }
      this.routine.assign(...own, ...(reduced === null ? [] : [[this.reduced, reduced] as const]), [
        this.rowNumber,
        g.add(row, one),
      ]);
    });
    for (const made of rows.waiting) made.isStored = true;
    rows.waiting.length = 0;
    rows.requires.length = 0;
  }

  /** Whether the row at hand is left after all that was set aside. */
  private isLeft(rows: RowSet): Node {
    const { graph: g } = this.kernel;
    const row = this.row();
    let left = this.isBetween(rows, rows.trimmed.first, rows.trimmed.last);
    if (rows.first !== null) left = g.and(left, g.lessOrEqual(this.kernel.load(rows.first), row));
    if (rows.end !== null) left = g.and(left, g.less(row, this.kernel.load(rows.end)));
    for (const condition of rows.kept) left = g.and(left, this.testScoped(condition));
    return left;
  }

  private isBetween(rows: RowSet, after: number, before: number): Node {
    const { graph: g } = this.kernel;
    const row = this.row();
    const isAfter = g.lessOrEqual(g.constant(after), row);
    return g.and(isAfter, g.less(g.add(row, g.constant(before)), this.kernel.load(rows.count)));
  }

  private row(): Node {
    return this.kernel.load(this.rowNumber);
  }

  /** A condition at the row at hand, as a mask. */
  private test(tree: Tree): Node {
    return this.testScoped(this.scoped(tree));
  }

  private testScoped({ tree, names }: Scoped): Node {
    const { graph: g } = this.kernel;
    const node = this.kernel.lowering.lowerCondition(tree, (name) => this.valueOf(name, names, 0));
    return node.type === 'mask' ? node : g.notEqual(node, g.constant(0));
  }

  private lower(tree: Tree): Node {
    return this.kernel.lowering.lower(tree, (name) => this.valueOf(name, this.names, 0));
  }

  /** What a name stands for some rows after the row at hand; undefined where it has no value here. */
  private valueOf(name: string, names: Names, shift: number): Node | undefined {
    const named = names.get(name);
    return named === undefined ? this.kernel.reducedName(name) : this.valueOfNamed(named, shift);
  }

  private valueOfNamed(named: Named, shift: number): Node {
    const { graph: g } = this.kernel;
    switch (named.kind) {
      case 'scalar':
        return this.kernel.load(named.slot);
      case 'number':
        return shift === 0 ? this.row() : g.add(this.row(), g.constant(shift));
      case 'shifted':
        return this.valueOfNamed(named.of, shift + named.by);
      case 'column':
        return this.valueOfColumn(named, shift);
    }
  }

  private valueOfColumn({ of, isStored, column }: MadeColumn, shift: number): Node {
    if (isStored || of === null) return this.kernel.graph.loadRow(column, shift);
    return this.kernel.lowering.lower(of.tree, (name) => this.valueOf(name, of.names, shift));
  }

  private define(name: string, named: Named): void {
    this.names = new Map([...this.names, [name, named]]);
  }

  private scoped(tree: Tree): Scoped {
    return { tree, names: this.names };
  }

  private named(name: string): Named {
    const named = this.names.get(name);
    if (named === undefined) throw new Error(`No step gives "${name}".`);
    return named;
  }

  private rowsOf(name: string): RowSet {
    const named = this.named(name);
    if (named.kind === 'scalar') throw new Error(`"${name}" is not a column.`);
    return named.rows;
  }

  private scalarNamed(name: string): Slot {
    const named = this.named(name);
    if (named.kind !== 'scalar') throw new Error(`"${name}" is a column.`);
    return named.slot;
  }

  private give(name: string, value: Node): void {
    const slot = this.kernel.slots.moving();
    this.routine.assign([slot, value]);
    this.define(name, { kind: 'scalar', slot });
  }

  /** Leaves a draw to the general way where a condition is not true. */
  private demand(condition: Node): void {
    const { graph: g } = this.kernel;
    this.routine.assign(...this.refuse(g.not(condition)));
  }

  private refuse(condition: Node): readonly Assignment[] {
    const { graph: g } = this.kernel;
    return [[this.reduced, g.select(condition, g.constant(0), this.kernel.load(this.reduced))]];
  }

  private isFinite(value: Node): Node {
    const { graph: g } = this.kernel;
    return g.less(g.abs(value), g.constant(Number.POSITIVE_INFINITY));
  }

  private always(): Node {
    const { graph: g } = this.kernel;
    return g.equal(g.constant(0), g.constant(0));
  }
}
