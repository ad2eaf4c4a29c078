import type { TableFit } from '../../run/index.ts';
import type { Page } from './page.ts';

const HEIGHT = 16;
const WIDEST = 72;

/** Readings (o) and the fit (.) in characters, against the one variable, or against the number of the reading. */
export function printCurve(page: Page, fitted: TableFit): string[] {
  const { y } = fitted;
  const x = fitted.x?.values ?? Float64Array.from(y, (_, index) => index + 1);
  const width = Math.min(WIDEST, page.width - 14);
  const [left, right] = spanOf(x);
  const [low, high] = spanOf([...y, ...fitted.fitted]);
  const cells = Array.from({ length: HEIGHT }, () => Array.from({ length: width }, () => ' '));
  const put = (at: number, value: number, sign: string) => {
    const column = Math.round(((at - left) / (right - left)) * (width - 1));
    const row = Math.round(((high - value) / (high - low)) * (HEIGHT - 1));
    const line = cells[row];
    if (line !== undefined && column >= 0 && column < width) line[column] = sign;
  };
  for (const [index, at] of x.entries()) put(at, fitted.fitted[index], '.');
  for (const [index, at] of x.entries()) put(at, y[index], 'o');
  const labels = [printEnd(high), ...Array.from({ length: HEIGHT - 2 }, () => ''), printEnd(low)];
  const { rule } = page.glyphs;
  const bottom = `${printEnd(left)}${printEnd(right).padStart(Math.max(width - printEnd(left).length, 1))}`;
  return [
    ...cells.map((line, row) => page.plain(`${(labels[row] ?? '').padStart(11)} ${line.join('')}`.trimEnd())),
    `${' '.repeat(12)}${rule.repeat(width)}`,
    page.plain(`${' '.repeat(12)}${bottom}`),
    page.plain(`${' '.repeat(12)}${fitted.x?.symbol ?? 'number of the reading'}   (o reading, . fit)`),
  ];
}

/** Least and greatest value, widened where they are the same. */
function spanOf(values: ArrayLike<number>): readonly [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < values.length; index++) {
    low = Math.min(low, values[index]);
    high = Math.max(high, values[index]);
  }
  return high > low ? [low, high] : [low - 1, low + 1];
}

function printEnd(value: number): string {
  return String(Number(value.toPrecision(5)));
}
