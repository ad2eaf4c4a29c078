import {
  ByteWriter,
  code,
  functionBody,
  LocalPool,
  type Node,
  valueType,
  vector,
  writeAccess,
  writeVector,
} from '../wasm/index.ts';
import { type Assignment, type LaneFormat, writeBlock } from './write-block.ts';

/**
 * Writes the body of one function: blocks of straight-line operations on all lanes, between loops and choices.
 *
 * What outlives a block stands in slots. A choice or loop goes on while any lane wants it; a lane that does not
 * must find its slots as they were (by `select`), so that no lane's result depends on its neighbours.
 */
export class Routine {
  private readonly out = new ByteWriter();
  private readonly pool = new LocalPool([]);
  private readonly format: LaneFormat;
  private rowPointer: number | null = null;

  constructor(format: LaneFormat) {
    this.format = format;
  }

  /** Works out values and puts them into slots; all slots are read before any is written. */
  assign(...assignments: readonly Assignment[]): void {
    writeBlock(this.out, this.pool, this.format, assignments, [], this.rowPointer);
  }

  /** Runs the body where any lane wants it. */
  whereAny(mask: Node, body: () => void): void {
    this.pushAny(mask);
    this.out.byte(code.if);
    this.out.byte(valueType.none);
    body();
    this.out.byte(code.end);
  }

  /** Repeats the body as long as any lane wants it, at most `most` times. */
  whileAny(mask: Node, most: number, body: () => void): void {
    const counter = this.pool.take(valueType.i32);
    this.pushInteger(most);
    this.out.byte(code.localSet);
    this.out.unsigned(counter);
    this.out.byte(code.block);
    this.out.byte(valueType.none);
    this.out.byte(code.loop);
    this.out.byte(valueType.none);
    this.pushAny(mask);
    this.out.byte(code.i32Eqz);
    this.out.byte(code.brIf);
    this.out.unsigned(1);
    body();
    this.get(counter);
    this.pushInteger(-1);
    this.out.byte(code.i32Add);
    this.out.byte(code.localTee);
    this.out.unsigned(counter);
    this.out.byte(code.brIf);
    this.out.unsigned(0);
    this.out.byte(code.end);
    this.out.byte(code.end);
    this.pool.giveBack(counter);
  }

  /** Repeats the body for row after row of the columns, from the first, as long as any lane wants it. */
  whileRows(mask: Node, most: number, body: () => void): void {
    const pointer = this.pool.take(valueType.i32);
    this.rowPointer = pointer;
    this.pushInteger(0);
    this.out.byte(code.localSet);
    this.out.unsigned(pointer);
    this.whileAny(mask, most, () => {
      body();
      this.get(pointer);
      this.pushInteger(8 * this.format.lanes);
      this.out.byte(code.i32Add);
      this.out.byte(code.localSet);
      this.out.unsigned(pointer);
    });
    this.rowPointer = null;
    this.pool.giveBack(pointer);
  }

  call(functionIndex: number): void {
    this.out.byte(code.call);
    this.out.unsigned(functionIndex);
  }

  /**
   * Writes each lane's value at the lane's cursor, and moves on the cursors of the lanes that want it.
   *
   * The cursors of the others stay, so that what is written there will be written over. Readings of a lane stand as
   * far apart as rows of a column.
   *
   * @param cursors address of one 32-bit address a lane
   */
  append(mask: Node, value: Node, cursors: number): void {
    const { lanes } = this.format;
    const kept = writeBlock(this.out, this.pool, this.format, [], [mask, value], this.rowPointer);
    const cursor = this.pool.take(valueType.i32);
    for (let lane = 0; lane < lanes; lane++) {
      const register = lane >> 1;
      const part = lane & 1;
      const at = cursors + 4 * lane;
      this.pushInteger(0);
      this.out.byte(code.i32Load);
      this.out.unsigned(2);
      this.out.unsigned(at);
      this.out.byte(code.localTee);
      this.out.unsigned(cursor);
      this.get(kept[1][register]);
      if (lanes > 1) this.extract(vector.f64ExtractLane, part);
      writeAccess(this.out, 'store', 0, 1);
      this.pushInteger(0);
      this.get(cursor);
      this.get(kept[0][register]);
      if (lanes > 1) {
        this.extract(vector.i64ExtractLane, part);
        this.out.byte(code.i32WrapI64);
        this.pushInteger(8 * lanes);
        this.out.byte(code.i32And);
      } else {
        this.pushInteger(3);
        this.out.byte(code.i32ShiftLeft);
      }
      this.out.byte(code.i32Add);
      this.out.byte(code.i32Store);
      this.out.unsigned(2);
      this.out.unsigned(at);
    }
    this.pool.giveBack(cursor);
    for (const local of new Set(kept.flat())) this.pool.giveBack(local);
  }

  /** The function's body, as the code section of a module holds it. */
  finish(): ByteWriter {
    return functionBody(this.pool.types, this.out);
  }

  /** Leaves 1 on the stack where the mask is true on any lane, 0 elsewhere. */
  private pushAny(mask: Node): void {
    const [held] = writeBlock(this.out, this.pool, this.format, [], [mask], this.rowPointer);
    for (const local of held) this.get(local);
    if (held.length === 2) writeVector(this.out, vector.or);
    if (this.format.lanes > 1) writeVector(this.out, vector.anyTrue);
    for (const local of held) this.pool.giveBack(local);
  }

  private get(local: number): void {
    this.out.byte(code.localGet);
    this.out.unsigned(local);
  }

  private pushInteger(value: number): void {
    this.out.byte(code.i32Const);
    this.out.signed(value);
  }

  private extract(instruction: number, part: number): void {
    writeVector(this.out, instruction);
    this.out.byte(part);
  }
}
