import { writeOds } from 'hucre/ods';
import { writeXlsx } from 'hucre/xlsx';
import { describe, expect, it } from 'vitest';
import { listSheets } from '../../../src/lab/trial/index.ts';
import { makeArchive, makeOpenDocument } from './archive.ts';
import { headings, notesOf, numbers, read, refusal } from './reading.ts';

const sheets = [
  { name: 'Notes', rows: [['Made up for a test'], [null], ['Group', 'A']] },
  {
    name: 'Run 1',
    rows: [
      ['Chain on a wheel'],
      [],
      ['edge time (s)', 'x / m', 'state'],
      [0.125, 0.1, 'ok'],
      [0.25, 1e-7, 'ok'],
      [0.375, -3, null],
    ],
  },
  {
    name: 'Run 2',
    rows: [
      ['t', 'F'],
      ['s', 'N'],
      [1, 2],
      [3, null],
      [5, 6],
    ],
  },
];

describe.each([
  ['xlsx', () => writeXlsx({ sheets })],
  ['ods', () => writeOds({ sheets })],
] as const)('an .%s file', (container, write) => {
  it('lists its sheets', async () => {
    expect(await listSheets(await write(), { file: 'a' })).toMatchObject({
      ok: true,
      value: ['Notes', 'Run 1', 'Run 2'],
    });
  });

  it('is read from the first sheet with a table of numbers', async () => {
    const table = await read(await write());
    expect(table.recognised).toMatchObject({
      container,
      sheet: 'Run 1',
      otherSheets: ['Notes', 'Run 2'],
      encoding: null,
      delimiter: null,
      preambleLines: 1,
      headingLines: [3],
      firstLine: 4,
    });
    expect(headings(table)).toEqual(['1|edge time|s', '1|x|m']);
    expect(numbers(table)).toEqual([
      [0.125, 0.25, 0.375],
      [0.1, 1e-7, -3],
    ]);
    expect(table.rowNumbers(2)).toBe(6);
    expect(table.recognised.textColumns.map((column) => column.heading)).toEqual(['state']);
  });

  it.each([['Run 2'], [3], ['3']])('is read from the sheet that is told: %s', async (sheet) => {
    const table = await read(await write(), { sheet });
    expect(headings(table)).toEqual(['1|t|s', '1|F|N']);
    expect(numbers(table)).toEqual([
      [1, 3, 5],
      [2, Number.NaN, 6],
    ]);
    expect(table.recognised.unitLine).toBe(2);
  });

  it('names its sheets where the one told is not there', async () => {
    expect(await refusal(await write(), { sheet: 'Run2' }, 'a.xlsx')).toEqual([
      'a.xlsx  There is no sheet "Run2". There are "Notes", "Run 1" and "Run 2". Did you mean "Run 2"?',
    ]);
    expect(await refusal(await write(), { sheet: 'Notes' }, 'a.xlsx')).toEqual([
      expect.stringContaining('No line of numbers was found'),
    ]);
  });

  it('with merged cells above its headings has runs side by side', async () => {
    const merged = {
      sheets: [
        {
          name: 'S',
          rows: [
            ['Run 1', null, 'Run 2', null],
            ['t (s)', 'x (m)', 't (s)', 'x (m)'],
            [0, 1, 0, 5],
            [1, 2, 1, 6],
          ],
          merges: [
            { startRow: 0, startCol: 0, endRow: 0, endCol: 1 },
            { startRow: 0, startCol: 2, endRow: 0, endCol: 3 },
          ],
        },
      ],
    };
    const table = await read(await (container === 'ods' ? writeOds(merged) : writeXlsx(merged)));
    expect(headings(table)).toEqual(['1|t|s', '1|x|m', '2|t|s', '2|x|m']);
    expect(table.recognised).toMatchObject({
      runsSideBySideBy: 'row of labels',
      runLabels: ['Run 1', 'Run 2'],
    });
  });

  it('with a merged heading over two columns has both their names', async () => {
    const merged = {
      sheets: [
        {
          name: 'S',
          rows: [
            ['time (s)', 'force', null],
            [null, '(N)', '(mN)'],
            [0, 1, 5],
            [1, 2, 6],
          ],
          merges: [{ startRow: 0, startCol: 1, endRow: 0, endCol: 2 }],
        },
      ],
    };
    const table = await read(await (container === 'ods' ? writeOds(merged) : writeXlsx(merged)));
    expect(headings(table)).toEqual(['1|time|s', '1|force|N', '1|force|mN']);
  });

  it('with dates and times in cells gives seconds', async () => {
    const at = (seconds: number): Date => new Date(Date.UTC(2024, 1, 28, 23, 59, 59) + seconds * 1000);
    const dated = {
      sheets: [
        {
          name: 'S',
          rows: [['when', 'x'], ...[0, 1, 3].map((seconds) => [at(seconds), seconds])],
          columns: [{ header: 'when', numFmt: 'yyyy-mm-dd hh:mm:ss' }, { header: 'x' }],
        },
      ],
    };
    const table = await read(await (container === 'ods' ? writeOds(dated) : writeXlsx(dated)));
    expect(numbers(table)[0]).toEqual([86399, 86400, 86402]);
    expect(table.columns[0]?.unit?.text).toBe('s');
  });

  it('with numbers kept as text reads them, decimal commas too', async () => {
    const asText = {
      sheets: [
        {
          name: 'S',
          rows: [
            ['t', 'x'],
            ['0,5', '1,25'],
            ['0,75', '1.234,5'],
            [1, 2],
          ],
        },
      ],
    };
    const table = await read(await (container === 'ods' ? writeOds(asText) : writeXlsx(asText)));
    expect(numbers(table)).toEqual([
      [0.5, 0.75, 1],
      [1.25, 1234.5, 2],
    ]);
  });

  it('with two tables is read where it is told', async () => {
    const both = {
      sheets: [
        { name: 'S', rows: [['t', 'x'], [1, 2], [2, 3], [], ['part', 'mass (g)'], ['a', 5], ['b', 6]] },
      ],
    };
    const table = await read(await (container === 'ods' ? writeOds(both) : writeXlsx(both)), { firstRow: 6 });
    expect(headings(table)).toEqual(['1|mass|g']);
    expect(numbers(table)).toEqual([[5, 6]]);
  });

  it('with units in its cells reads them', async () => {
    const weighed = {
      sheets: [{ name: 'S', rows: [['n', 'mass'], ...[1, 2, 3, 4].map((n) => [n, `${n},5 g`])] }],
    };
    const table = await read(await (container === 'ods' ? writeOds(weighed) : writeXlsx(weighed)));
    expect(headings(table)).toEqual(['1|n|', '1|mass|g']);
    expect(numbers(table)[1]).toEqual([1.5, 2.5, 3.5, 4.5]);
  });

  it('with words among numbers says in which row', async () => {
    const spoilt = {
      sheets: [
        {
          name: 'S',
          rows: [
            ['t', 'x'],
            [1, 2],
            [2, '3,4s'],
            [3, 4],
            [4, '#DIV/0!'],
          ],
        },
      ],
    };
    const table = await read(await (container === 'ods' ? writeOds(spoilt) : writeXlsx(spoilt)));
    expect(table.columns[1]?.notNumbers.first).toMatchObject([{ place: { line: 3 } }]);
    expect(table.columns[1]?.blanks).toBe(1);
    expect(notesOf(table, 'not-numbers')).toHaveLength(1);
  });
});

const row = (cells: string, attributes = ''): string =>
  `<table:table-row${attributes}>${cells}</table:table-row>`;
const float = (value: number | string): string =>
  `<table:table-cell office:value-type="float" office:value="${value}"><text:p>${value}</text:p></table:table-cell>`;
const words = (text: string, attributes = ''): string =>
  `<table:table-cell office:value-type="string"${attributes}><text:p>${text}</text:p></table:table-cell>`;
const table = (rows: string): string => `<table:table table:name="A &amp; B">${rows}</table:table>`;

describe('an OpenDocument spreadsheet as office programs write it', () => {
  it('with blank cells and rows repeated to the edge of the sheet', async () => {
    const blank = '<table:table-cell table:style-name="ce1" table:number-columns-repeated="16380"/>';
    const content = table(
      row(words('t &lt;raw&gt;<text:s text:c="3"/>(s)') + words('x') + blank) +
        row(blank, ' table:number-rows-repeated="2"') +
        row(float(1) + float(2) + blank) +
        row(
          `<table:table-cell table:number-columns-repeated="2" office:value-type="float" office:value="7"/>${blank}`,
        ) +
        row(float(8) + float('9e-3')) +
        row(blank, ' table:number-rows-repeated="1048570"'),
    );
    const found = await read(makeOpenDocument(content));
    expect(found.recognised).toMatchObject({ sheet: 'A & B', headingLines: [1], firstLine: 4 });
    expect(found.columns[0]?.heading).toBe('t <raw> (s)');
    expect(numbers(found)).toEqual([
      [1, 7, 8],
      [2, 7, 0.009],
    ]);
    expect(found.rowNumbers(2)).toBe(6);
  });

  it('with times, notes to cells and formulas', async () => {
    const time = (value: string): string =>
      `<table:table-cell office:value-type="time" office:time-value="${value}"><office:annotation><text:p>12</text:p></office:annotation><text:p>x</text:p></table:table-cell>`;
    const content = table(
      row(words('clock') + words('x')) +
        row(time('PT00H00M01.25S') + float(1)) +
        row(time('PT00H01M00S') + float(2)) +
        row(time('PT01H00M00,5S') + float(3)),
    );
    expect(numbers(await read(makeOpenDocument(content)))[0]).toEqual([1.25, 60, 3600.5]);
    const date = (value: string): string =>
      `<table:table-cell office:value-type="date" office:date-value="${value}"><text:p>x</text:p></table:table-cell>`;
    const dates = table(
      row(date('2024-02-28T23:59:59.25') + float(1)) + row(date('2024-02-29T00:00:00.5') + float(2)),
    );
    expect(numbers(await read(makeOpenDocument(dates)))[0]).toEqual([86399.25, 86400.5]);
  });
});

describe('an archive that is not what it should be', () => {
  it('that declares too much is refused before anything is unpacked', async () => {
    const bomb = makeArchive([
      { name: '[Content_Types].xml', data: '<x/>' },
      { name: 'xl/worksheets/sheet1.xml', data: new Uint8Array(100), declared: 4_000_000_000 },
    ]);
    expect(await refusal(bomb, {}, 'a.xlsx')).toEqual([
      'a.xlsx  The file declares that it unpacks to more than 160 MB, or leaves its size open. Save the sheet with the readings alone, or export it as .csv.',
    ]);
    const silent = makeArchive([{ name: 'content.xml', data: new Uint8Array(100), declared: 0 }]);
    expect(await refusal(silent, {}, 'a.ods')).toEqual([expect.stringContaining('or leaves its size open')]);
  });

  it('whose few cells repeat without end is refused', async () => {
    const cell =
      '<table:table-cell office:value-type="float" office:value="1" table:number-columns-repeated="16384"/>';
    const wide = makeOpenDocument(table(row(cell.repeat(1000))));
    expect(await refusal(wide, {}, 'a.ods')).toEqual([
      expect.stringContaining('asks for more than 6000000 cells'),
    ]);
    const tall = makeOpenDocument(table(row(float(1), ' table:number-rows-repeated="1048576"').repeat(50)));
    expect(await refusal(tall, {}, 'a.ods')).toEqual([
      expect.stringContaining('asks for more than 6000000 cells'),
    ]);
  });

  it('whose two cells lie at opposite corners of the largest sheet is refused', async () => {
    const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
    const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
    const relations = (type: string, target: string): string =>
      `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="${office}/${type}" Target="${target}"/></Relationships>`;
    const workbook = (cells: string): Uint8Array =>
      makeArchive([
        { name: '[Content_Types].xml', data: '<Types/>' },
        { name: '_rels/.rels', data: relations('officeDocument', 'xl/workbook.xml') },
        {
          name: 'xl/workbook.xml',
          data: `<workbook xmlns="${main}" xmlns:r="${office}"><sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets></workbook>`,
        },
        { name: 'xl/_rels/workbook.xml.rels', data: relations('worksheet', 'worksheets/sheet1.xml') },
        {
          name: 'xl/worksheets/sheet1.xml',
          data: `<worksheet xmlns="${main}"><sheetData>${cells}</sheetData></worksheet>`,
        },
      ]);
    const near = workbook('<row r="1"><c r="A1"><v>1</v></c></row><row r="2"><c r="A2"><v>2</v></c></row>');
    expect(numbers(await read(near))).toEqual([[1, 2]]);
    const far = workbook(
      '<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>2</v></c></row>',
    );
    expect(await refusal(far)).toEqual([
      expect.stringContaining('The workbook is damaged or no spreadsheet'),
    ]);
  });

  it('that nests or declares entities is refused', async () => {
    const bomb = makeArchive([
      { name: 'mimetype', data: 'application/vnd.oasis.opendocument.spreadsheet' },
      { name: 'content.xml', data: '<!DOCTYPE x [<!ENTITY a "aaaa">]><x>&a;</x>' },
    ]);
    expect(await refusal(bomb, {}, 'a.ods')).toEqual([expect.stringContaining('The spreadsheet is damaged')]);
    expect(await refusal(makeOpenDocument('<a>'.repeat(5000)), {}, 'a.ods')).toEqual([
      expect.stringContaining('The spreadsheet is damaged'),
    ]);
  });

  it('that is locked, cut off, or no spreadsheet says so', async () => {
    const locked = makeArchive([{ name: 'content.xml', data: 'x', flags: 1 }]);
    expect(await refusal(locked)).toEqual([expect.stringContaining('locked with a password')]);
    const whole = await writeXlsx({ sheets });
    expect(await refusal(whole.subarray(0, whole.length - 40))).toEqual([
      expect.stringContaining('cut off or damaged'),
    ]);
    expect(await refusal(makeArchive([{ name: 'photo.txt', data: 'x' }]))).toEqual([
      expect.stringContaining('a zip archive, but no spreadsheet'),
    ]);
    expect(await refusal(makeArchive([{ name: '[Content_Types].xml', data: '<Types/>' }]))).toEqual([
      expect.stringContaining('The workbook is damaged or no spreadsheet'),
    ]);
    const empty = makeOpenDocument('');
    expect(await refusal(empty)).toEqual([expect.stringContaining('holds no sheet')]);
  });
});
