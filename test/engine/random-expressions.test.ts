import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Lowering } from '../../src/engine/lower-tree.ts';
import { Routine } from '../../src/engine/routine.ts';
import { SlotList } from '../../src/engine/slots.ts';
import { addressOf, type Lanes, laneFormat } from '../../src/engine/write-block.ts';
import { interpret, nodesOf, type Tree } from '../../src/expression/index.ts';
import {
  evaluateGraph,
  Graph,
  instantiate,
  makeMemory,
  type Slot,
  writeModule,
} from '../../src/wasm/index.ts';
import { NAMES, randomTrees } from '../expression/random-trees.ts';

const names: readonly string[] = NAMES;
const { value: trees } = randomTrees({ everything: false });
const arguments_ = fc.array(fc.double({ min: -3, max: 3, noNaN: true }), {
  minLength: NAMES.length,
  maxLength: NAMES.length,
});

/** A tree on lanes: the graph's own value, and what the machine code gives on each lane. */
function values(tree: Tree, rows: readonly (readonly number[])[], lanes: Lanes) {
  const graph = new Graph();
  const slots = new SlotList();
  const lowering = new Lowering(graph, slots, new Set());
  const inputs = NAMES.map(() => slots.moving());
  const output = slots.moving();
  const environment = (name: string) => {
    const index = names.indexOf(name);
    return index < 0 ? undefined : graph.load(inputs[index]);
  };
  const node = lowering.lower(tree, environment);
  const format = laneFormat(lanes, []);
  const routine = new Routine(format);
  const hoisted: readonly { readonly slot: Slot; readonly value: typeof node }[] = lowering.hoisted;
  routine.assign(...hoisted.map(({ slot, value }) => [slot, value] as const));
  routine.assign([output, node]);
  const pages = 1 + Math.ceil((8 * lanes * slots.count + 4096) / 65536);
  const shared = makeMemory(pages);
  const type = { takes: [], gives: [] };
  const bytes = writeModule({ pages, functions: [{ name: 'run', type, body: routine.finish() }] });
  const run = instantiate(bytes, { memory: shared })('run');
  const memory = new Float64Array(shared.buffer);
  for (let lane = 0; lane < lanes; lane++) {
    for (const [index, slot] of inputs.entries()) {
      memory[addressOf(format, slot, 0) / 8 + lane] = rows[lane][index];
    }
  }
  run();
  const byCode = rows.slice(0, lanes).map((_, lane) => memory[addressOf(format, output, 0) / 8 + lane]);
  const byGraph = rows.slice(0, lanes).map((row) => {
    const fixed = new Map(
      hoisted.map(({ slot, value }) => [slot.index, evaluateGraph([value], () => Number.NaN)[0]]),
    );
    return evaluateGraph([node], ({ slot }) => {
      if (slot === null) throw new Error('Nothing but slots is read on lanes.');
      return fixed.get(slot.index) ?? row[slot.index];
    })[0];
  });
  return { byCode, byGraph };
}

/** How much the value changes when the arguments change by a few roundings: below that nothing can agree. */
function shakiness(tree: Tree, row: readonly number[], expected: number): number {
  let largest = 0;
  for (const change of [1e-11, -1e-11, 3e-12]) {
    for (let k = 0; k < row.length; k++) {
      const moved = row.map((value, index) => (index === k ? value * (1 + change) + change * 1e-3 : value));
      largest = Math.max(largest, Math.abs(interpret(tree, lookUp(moved)) - expected));
    }
  }
  return largest;
}

const lookUp = (row: readonly number[]) => (name: string) => row[names.indexOf(name)] ?? Number.NaN;

describe('random expressions', () => {
  it('have the same bits in machine code on 1, 2 and 4 lanes and in the walk of the graph', () => {
    fc.assert(
      fc.property(trees, fc.array(arguments_, { minLength: 4, maxLength: 4 }), (tree, rows) => {
        for (const lanes of [1, 2, 4] as const) {
          const { byCode, byGraph } = values(tree, rows, lanes);
          for (const [lane, value] of byCode.entries()) {
            // The bits of what is no number are left open by both standards.
            expect(Object.is(value, byGraph[lane])).toBe(true);
          }
        }
      }),
      { numRuns: 300, seed: 4711 },
    );
  });

  it('mean what the interpreter of expressions says, wherever that is settled to a few roundings', () => {
    let compared = 0;
    fc.assert(
      fc.property(trees, arguments_, (tree, row) => {
        const expected = interpret(tree, lookUp(row));
        const [found] = values(tree, [row], 1).byCode;
        if (!Number.isFinite(expected) || Math.abs(expected) > 1e250) return;
        const allowed = 1e-12 * Math.abs(expected) + 10 * shakiness(tree, row, expected);
        if (!(allowed <= 1e-6 * Math.abs(expected))) return;
        // Angles beyond half a million radians have no sine here.
        const holdsAngle = nodesOf(tree).some(
          (node) => node.kind === 'call' && /^(sin|cos|tan)$/.test(node.name),
        );
        if (holdsAngle && Number.isNaN(found)) return;
        compared += 1;
        expect(Math.abs(found - expected)).toBeLessThanOrEqual(allowed);
      }),
      { numRuns: 1500, seed: 815 },
    );
    expect(compared).toBeGreaterThan(500);
  });
});
