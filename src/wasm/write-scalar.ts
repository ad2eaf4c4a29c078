import { ByteWriter } from './byte-writer.ts';
import type { Node } from './graph.ts';
import { LocalPool } from './local-pool.ts';
import { functionBody } from './module-bytes.ts';
import { code, valueType } from './opcodes.ts';
import { writeOperations } from './write-operations.ts';

/** The body of a function that takes numbers and gives one: argument k of the graph is its parameter k. */
export function writeNumberFunction(root: Node, parameterCount: number): ByteWriter {
  const out = new ByteWriter();
  const pool = new LocalPool(new Array(parameterCount).fill(valueType.f64));
  const block = writeOperations(
    out,
    pool,
    {
      registers: 1,
      registerLanes: 1,
      isLeaf: ({ operation }) => operation === 'argument',
      isCheap: () => true,
      pushLeaf({ value }) {
        out.byte(code.localGet);
        out.unsigned(value);
      },
      writeCall() {
        throw new Error('A plain function calls nothing.');
      },
    },
    { wanted: [root], kept: new Set() },
  );
  block.push(root, 0);
  return functionBody(pool.types.slice(parameterCount), out);
}
