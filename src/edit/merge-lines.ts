/**
 * Two texts that come from the same one, line by line: what only one of them changed is taken from it.
 *
 * @returns the lines; where both changed the same lines in different ways, `theirs` has them, and `isClean` is false
 * Source of the method: Khanna, Kunal, Pierce 2007, A formal investigation of diff3, FSTTCS 2007
 */
export function mergeLines(
  base: string,
  mine: string,
  theirs: string,
): { readonly text: string; readonly isClean: boolean } {
  const [o, a, b] = [base.split('\n'), mine.split('\n'), theirs.split('\n')];
  const inMine = matchLines(o, a);
  const inTheirs = matchLines(o, b);
  const merged: string[] = [];
  let isClean = true;
  let [at, atMine, atTheirs] = [0, 0, 0];
  while (at < o.length || atMine < a.length || atTheirs < b.length) {
    if (at < o.length && inMine[at] === atMine && inTheirs[at] === atTheirs) {
      merged.push(o[at] ?? '');
      at++;
      atMine++;
      atTheirs++;
      continue;
    }
    // Up to the next line that all three have.
    let next = at;
    while (next < o.length && !((inMine[next] ?? -1) >= atMine && (inTheirs[next] ?? -1) >= atTheirs)) next++;
    const untilMine = next < o.length ? (inMine[next] ?? a.length) : a.length;
    const untilTheirs = next < o.length ? (inTheirs[next] ?? b.length) : b.length;
    const old = o.slice(at, next).join('\n');
    const own = a.slice(atMine, untilMine);
    const other = b.slice(atTheirs, untilTheirs);
    const [isMine, isTheirs] = [
      own.join('\n') !== old || own.length !== next - at,
      other.join('\n') !== old || other.length !== next - at,
    ];
    if (isMine && isTheirs && own.join('\n') !== other.join('\n')) isClean = false;
    merged.push(...(isTheirs ? other : own));
    [at, atMine, atTheirs] = [next, untilMine, untilTheirs];
  }
  return { text: merged.join('\n'), isClean };
}

/** Texts of more lines than this, apart from what is alike at both ends, are taken as wholly different. */
const MOST_LINES = 4000;

/** For each line of `from` the line of `to` that it is, -1 where it is none: a longest common subsequence. */
function matchLines(from: readonly string[], to: readonly string[]): Int32Array {
  const matched = new Int32Array(from.length).fill(-1);
  let start = 0;
  while (start < from.length && start < to.length && from[start] === to[start]) matched[start] = start++;
  let [end, endTo] = [from.length, to.length];
  while (end > start && endTo > start && from[end - 1] === to[endTo - 1]) matched[--end] = --endTo;
  const [rows, columns] = [end - start, endTo - start];
  if (rows === 0 || columns === 0 || rows > MOST_LINES || columns > MOST_LINES) return matched;
  // Lengths of the longest common subsequences of what is left from each pair of lines on.
  const width = columns + 1;
  const lengths = new Uint16Array((rows + 1) * width);
  for (let row = rows - 1; row >= 0; row--) {
    for (let column = columns - 1; column >= 0; column--) {
      lengths[row * width + column] =
        from[start + row] === to[start + column]
          ? lengths[(row + 1) * width + column + 1] + 1
          : Math.max(lengths[(row + 1) * width + column], lengths[row * width + column + 1]);
    }
  }
  let [row, column] = [0, 0];
  while (row < rows && column < columns) {
    if (from[start + row] === to[start + column]) matched[start + row++] = start + column++;
    else if (lengths[(row + 1) * width + column] >= lengths[row * width + column + 1]) row++;
    else column++;
  }
  return matched;
}
