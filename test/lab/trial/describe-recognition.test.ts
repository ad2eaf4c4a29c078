import { describe, expect, it } from 'vitest';
import { describeRecognition } from '../../../src/lab/trial/index.ts';
import { read } from './reading.ts';

describe('what was taken for what, in sentences', () => {
  it('for a tidy file is short', async () => {
    const table = await read('t (s),x (m)\n0,1\n0.1,2\n');
    expect(describeRecognition(table.recognised)).toEqual([
      'Read as UTF-8 with commas between the columns and a decimal point.',
      'Heading in line 1; readings from line 2.',
    ]);
  });

  it('for an untidy file names everything', async () => {
    const rows = Array.from(
      { length: 20 },
      (_, n) => `${n},0;${n},5;ok;${n < 9 ? `${n},0;${n},5;ok` : ';;'}`,
    );
    rows.splice(4, 0, 'wheel touched');
    rows[8] = '7,0;OL;ok;7,0;-;ok';
    const text = `\ufeffMade up\nfor a test\nRun 1;;;Run 2;;\nt;x;state;t;x;state\ns;m;;s;m;\n${rows.join('\n')}\n`;
    const table = await read(text, { lastRow: 30 });
    expect(describeRecognition(table.recognised)).toEqual([
      'Read as UTF-8 (with byte-order mark) with semicolons between the columns and a decimal comma.',
      '2 lines of preamble skipped; heading in lines 3, 4 and 5; labels of the runs in line 3; units in line 5; readings from line 6.',
      '2 runs: 2 side by side, told apart by a row of labels above the headings.',
      'Left out: 1 column of words ("state"), 1 remark.',
      '1 cell is blank or marked as missing.',
      '1 cell is marked as over range.',
      'Time stamps in "t" of run 1 every 1.',
      'Time stamps in "t" of run 2 every 1.',
      'Told by the lab file, not detected: last row.',
    ]);
  });
});
