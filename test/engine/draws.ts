import type { BatchEngine, BatchResult } from '../../src/engine/index.ts';

/** Rows of a model's parameters, each value within a share of its own, from a fixed seed. */
export function drawRows(values: ArrayLike<number>, count: number, share: number): Float64Array {
  let state = 20_231;
  const uniform = (): number => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648 - 0.5;
  };
  const rows = new Float64Array(count * values.length);
  for (let i = 0; i < rows.length; i++) rows[i] = values[i % values.length] * (1 + 2 * share * uniform());
  return rows;
}

export function runAll(engine: BatchEngine, rows: Float64Array): BatchResult {
  const count = rows.length / engine.rowLength;
  const result = engine.makeResult(count);
  engine.run(rows, count, result);
  return result;
}

/** Everything that is known of one draw, as numbers whose bits can be compared. */
export function readDraw(result: BatchResult, draw: number, states: number): number[] {
  const holds = result.failedAt.length / result.status.length;
  const readings = result.series.flatMap(({ count, values }) => {
    const most = values.length / count.length;
    return [count[draw], ...values.subarray(draw * most, draw * most + count[draw])];
  });
  return [
    result.status[draw],
    result.endS[draw],
    result.stop[draw],
    ...result.endState.subarray(draw * states, (draw + 1) * states),
    ...result.failedAt.subarray(draw * holds, (draw + 1) * holds),
    ...result.failedState.subarray(draw * holds * states, (draw + 1) * holds * states),
    ...readings,
  ];
}
