import { createServer } from 'node:http';
import { describe, expect, it } from 'vitest';
import { lessonForm } from './json-forms.ts';
import { makeFolder, run } from './run-in-memory.ts';

const quick = ['--rehearsals', '4', '--host', '127.0.0.1', '--port', '0'];

describe('lesson', () => {
  it('prints one JSON document of the documented form, and shows the teacher’s page', async () => {
    const shown: string[] = [];
    const signal = { aborted: false };
    const showAddress = (address: string): boolean => {
      shown.push(address);
      // Ctrl-C, once the document is printed.
      setTimeout(() => {
        signal.aborted = true;
      }, 300);
      return true;
    };
    const folder = await makeFolder();
    const ran = await run(['lesson', 'draped-chain', '--groups', '4', ...quick, '--json'], {
      folder,
      signal,
      showAddress,
    });
    expect(ran.code).toBe(0);
    const document = lessonForm.parse(JSON.parse(ran.out));
    expect(document.stations).toEqual(['A', 'B', 'C', 'A 2']);
    expect(document.entries).toBe('lesson.db');
    expect(shown).toEqual([document.teacher_address]);
    expect(document.address).toBe(`http://127.0.0.1:${document.port}/`);
  });

  it('says with 2 that a port is taken, or that an address is not this computer’s', async () => {
    const folder = await makeFolder();
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    const address = other.address();
    const port = String(typeof address === 'object' && address !== null ? address.port : 0);
    const args = ['lesson', 'draped-chain', '--rehearsals', '4', '--no-browser'];
    const taken = await run([...args, '--host', '127.0.0.1', '--port', port], { folder });
    other.close();
    expect([taken.code, taken.err]).toEqual([2, expect.stringContaining(`Port ${port} is taken`)]);
    const elsewhere = await run([...args, '--host', '192.0.2.7'], { folder });
    expect([elsewhere.code, elsewhere.err]).toEqual([
      2,
      expect.stringContaining('"192.0.2.7" is no address of this computer.'),
    ]);
  });
});
