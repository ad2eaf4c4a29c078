import { describe, expect, it } from 'vitest';
import { joinInlines, point, say, type TableBlock } from '../../src/publish/document/index.ts';
import { columnWidths } from '../../src/publish/writing/index.ts';
import { parseUnit } from '../../src/quantity/index.ts';
import { english } from './sample-tree.ts';

const metre = parseUnit('m');
if (!metre.ok) throw new Error('the metre is gone');

/** '(1.550 ± 0.058) m' has 17 letters and is never parted. */
const number = [point(1.55, 0.058, metre.value)];
const PROSE = 'it scatters by five per cent from school to school, and the gap to theory is large';

const table = (rows: TableBlock['rows']): TableBlock => ({
  kind: 'table',
  caption: [],
  head: [say`kit`, say`expected value of it`, say`judgement`],
  align: ['left', 'number', 'left'],
  rows,
  emptyRows: 0,
});

describe('the widths of a table’s columns', () => {
  it('are left alone where every line fits', () => {
    expect(columnWidths(table([[say`wire`, number, say`good`]]), english, 90, 2)).toBeNull();
  });

  it('keep numbers whole and give what is left to the longest lines, to the last letter', () => {
    const widths = columnWidths(table([[say`wire`, number, joinInlines(PROSE)]]), english, 90, 2);
    const [kit = 0, expected = 0, judgement = 0] = widths ?? [];
    expect(expected).toBeGreaterThanOrEqual(17 + 2);
    expect(judgement).toBeGreaterThan(expected);
    expect(kit).toBeGreaterThanOrEqual(4 + 2);
    expect(kit + expected + judgement).toBeCloseTo(90, 9);
  });

  it('are left alone where not even the unbroken pieces fit', () => {
    const rows = [[say`wire`, number, joinInlines('x'.repeat(120))]];
    expect(columnWidths(table(rows), english, 90, 2)).toBeNull();
  });
});
