/** The rows in which a condition, given as 1 or 0, is true. */
export function rowsWhere(holds: Float64Array): Int32Array {
  const rows = new Int32Array(holds.length);
  let count = 0;
  for (let i = 0; i < holds.length; i++) if (holds[i] === 1) rows[count++] = i;
  return rows.subarray(0, count);
}
