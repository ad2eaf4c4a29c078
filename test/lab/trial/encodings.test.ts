import { describe, expect, it } from 'vitest';
import { notesOf, numbers, read, refusal } from './reading.ts';

const text = 'Temperatur (°C);Länge (µm)\r\n20,5;1,25\r\n21,0;1,50\r\n21,5;1,75\r\n';
const expected = [
  [20.5, 21, 21.5],
  [1.25, 1.5, 1.75],
];

function utf16(content: string, order: 'le' | 'be', mark: boolean): Uint8Array {
  const units = Array.from(mark ? `\ufeff${content}` : content, (character) => character.charCodeAt(0));
  const bytes = new Uint8Array(2 * units.length);
  const view = new DataView(bytes.buffer);
  units.forEach((unit, index) => {
    view.setUint16(2 * index, unit, order === 'le');
  });
  return bytes;
}

const windows1252 = (content: string): Uint8Array =>
  Uint8Array.from(content, (character) => character.charCodeAt(0));

describe('the encoding of a text file', () => {
  const files: [string, Uint8Array, string, boolean][] = [
    ['UTF-8', new TextEncoder().encode(text), 'utf-8', false],
    ['UTF-8 with a byte-order mark', new TextEncoder().encode(`\ufeff${text}`), 'utf-8', true],
    ['UTF-16 LE with a byte-order mark', utf16(text, 'le', true), 'utf-16le', true],
    ['UTF-16 BE with a byte-order mark', utf16(text, 'be', true), 'utf-16be', true],
    ['UTF-16 LE without a mark, by its zeros', utf16(text, 'le', false), 'utf-16le', false],
    ['UTF-16 BE without a mark, by its zeros', utf16(text, 'be', false), 'utf-16be', false],
    ['windows-1252, because it is not valid UTF-8', windows1252(text), 'windows-1252', false],
  ];
  it.each(files)('%s is recognised', async (_, bytes, encoding, byteOrderMark) => {
    const table = await read(bytes);
    expect(table.recognised).toMatchObject({ encoding, byteOrderMark, delimiter: ';', decimalMark: ',' });
    expect(numbers(table)).toEqual(expected);
    expect(table.columns.map((column) => column.heading)).toEqual(['Temperatur (°C)', 'Länge (µm)']);
    expect(table.columns.map((column) => column.unit?.text)).toEqual(['°C', 'µm']);
  });

  it('keeps to UTF-8 when the file is cut off within a character', async () => {
    const bytes = new TextEncoder().encode('t (s),remark\n0.1,größer\n0.2,µ');
    const table = await read(bytes.subarray(0, bytes.length - 1));
    expect(table.recognised.encoding).toBe('utf-8');
    expect(numbers(table)).toEqual([[0.1, 0.2]]);
  });

  it('says so when a UTF-8 file holds a few bytes that are not UTF-8', async () => {
    const good = new TextEncoder().encode('größe (mm),t (s)\n1,2\n3,4\nµ');
    const table = await read(Uint8Array.from([...good, 0xff, 10, 53, 44, 54, 10]));
    expect(table.recognised.encoding).toBe('utf-8');
    expect(notesOf(table, 'bad-characters')).toHaveLength(1);
  });

  it('takes an encoding that is told, and refuses one that is not known', async () => {
    const bytes = Uint8Array.from([0x74, 0x20, 0x28, 0xb5, 0x73, 0x29, 10, 49, 10, 50, 10]);
    const table = await read(bytes, { encoding: 'iso-8859-1' });
    expect(table.columns[0]?.heading).toBe('t (µs)');
    expect(table.recognised.told).toEqual(['encoding']);
    expect(await refusal(bytes, { encoding: 'utf-99' })).toEqual([
      expect.stringContaining('"utf-99" is not the name of an encoding'),
    ]);
  });

  it('ignores the zeros with which a logger pads the end of a file', async () => {
    const table = await read(
      Uint8Array.from([...new TextEncoder().encode('t,x\n1,2\n3,4\n'), ...Array<number>(500).fill(0)]),
    );
    expect(numbers(table)).toEqual([
      [1, 3],
      [2, 4],
    ]);
  });

  it.each([
    ['LF', '\n'],
    ['CR LF', '\r\n'],
    ['CR', '\r'],
  ])('reads lines that end with %s, with the right line numbers', async (_, end) => {
    const table = await read(['# made up', 't;x', '1;2', '', '3;4', '5;6'].join(end));
    expect(numbers(table)).toEqual([
      [1, 3, 5],
      [2, 4, 6],
    ]);
    expect([0, 1, 2].map((row) => table.rowNumbers(row))).toEqual([3, 5, 6]);
  });

  it('refuses what is no text, and says what to do', async () => {
    const noise = Uint8Array.from({ length: 4000 }, (_, index) => (index * 7919) % 32);
    expect(await refusal(noise)).toEqual([
      'trials/a1.csv  This is not a text file: it is full of control characters. Export the readings as delimited text (.csv, .txt), .xlsx or .ods.',
    ]);
    expect(await refusal(new Uint8Array(0))).toEqual([
      'trials/a1.csv  The file is empty; it should hold the readings of a trial.',
    ]);
    expect(await refusal('\ufeff')).toEqual([expect.stringContaining('No line of numbers was found')]);
    expect(await refusal(Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1]))).toEqual([
      expect.stringContaining('.xls workbook of before 2007'),
    ]);
    expect(await refusal('%PDF-1.7\n1 2\n3 4\n')).toEqual([expect.stringContaining('PDF document')]);
  });
});

describe('the digest of a file', () => {
  // FIPS 180-4 test vectors (NIST, "SHA256.pdf", examples with intermediate values): "abc", and the two-block message.
  it.each([
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
  ])('is SHA-256 of %s', async (message, digest) => {
    const { sha256 } = await import('../../../src/lab/trial/sha256.ts');
    expect(sha256(new TextEncoder().encode(message))).toBe(digest);
  });

  it('goes with the table and is of the bytes as they came, mark and all', async () => {
    const plain = await read('t\n1\n2\n');
    const marked = await read('\ufefft\n1\n2\n');
    expect(plain.sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(marked.sha256).not.toBe(plain.sha256);
  });
});
