const LOWERED = '₀₁₂₃₄₅₆₇₈₉';

/**
 * A name for each symbol that spreadsheet programs accept: not like a cell (k2, x1), not R or C, each one once even
 * where capitals do not count.
 *
 * @param taken names that the workbook uses itself
 */
export function sheetNames(
  symbols: readonly string[],
  taken: readonly string[],
): ReadonlyMap<string, string> {
  const used = new Set(taken.map((name) => name.toLowerCase()));
  const names = new Map<string, string>();
  for (const symbol of symbols) {
    const plain = symbol
      .replace(/[₀-₉]/gu, (digit) => String(LOWERED.indexOf(digit)))
      .replace(/[^\p{L}\p{N}_]/gu, '_');
    const first = isRefused(plain) ? `${plain}_` : plain;
    let name = first;
    for (let n = 2; used.has(name.toLowerCase()); n++) name = `${first}_${n}`;
    used.add(name.toLowerCase());
    names.set(symbol, name);
  }
  return names;
}

/** What a program would read as a cell, a row, a column, a truth or a number. */
function isRefused(name: string): boolean {
  return (
    /^[a-z]{1,4}\d+$/i.test(name) ||
    /^(r|c|rc)$|^r\d+(c\d*)?$|^c\d+$|^rc\d+$/i.test(name) ||
    /^(true|false|pi|na)$/i.test(name) ||
    !/^[\p{L}_]/u.test(name)
  );
}
