import { createServer } from 'node:http';
import { describe, expect, it } from 'vitest';
import { makeFolder, run } from './run-in-memory.ts';

describe('open', () => {
  it('says with 2 that there is no such lab, and starts nothing', async () => {
    const ran = await run(['open', 'no-such-lab', '--no-browser']);
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toContain('There is no lab "no-such-lab"');
  });

  it('says with 2 that the port which was asked for is taken', async () => {
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    const address = other.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    const ran = await run(['open', '--no-browser', '--port', String(port)], { folder: await makeFolder() });
    other.close();
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining(`Port ${port} is taken`)]);
  });

  it('takes whole numbers as ports', async () => {
    const ran = await run(['open', '--port', '65536']);
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining('from 0 to 65535')]);
  });

  it('shows the address in the browser unless it is told not to', async () => {
    const shown: string[] = [];
    const signal = { aborted: false };
    const showAddress = (address: string): boolean => {
      shown.push(address);
      signal.aborted = true;
      return true;
    };
    const folder = await makeFolder();
    const ran = await run(['open', '--port', '0'], { folder, signal, showAddress });
    expect(shown).toEqual([expect.stringMatching(/^http:\/\/127\.0\.0\.1:\d+\/$/)]);
    expect(ran.code).toBe(130);
  });

  it('goes on where there is no screen, and says to open the address', async () => {
    const signal = { aborted: false };
    const showAddress = (): boolean => {
      // Once what follows from this has been printed.
      setTimeout(() => {
        signal.aborted = true;
      });
      return false;
    };
    const folder = await makeFolder();
    const ran = await run(['open', '--port', '0'], { folder, signal, showAddress });
    expect(ran.err).toBe('');
    expect(ran.out).toMatch(
      /^http:\/\/127\.0\.0\.1:\d+\/\nOpen this address in a browser on this computer\./,
    );
  });
});
