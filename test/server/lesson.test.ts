import { createHash } from 'node:crypto';
import { readFile, stat, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { connect } from 'node:net';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listStations, rehearseClass } from '../../src/classroom/index.ts';
import { openEntryStore } from '../../src/server/index.ts';
import { pipelineOf, shippedLabs, startClass } from './lesson-talk.ts';
import { makeFolder } from './talk.ts';

const pipeline = await pipelineOf('draped-chain');
const rehearsed = rehearseClass(pipeline, listStations(pipeline.lab), { rehearsals: 12 });
if (!rehearsed.ok) throw new Error('no rehearsal');
/** What station A, B and C are expected to find as the slope, 1/s. */
const slopes = rehearsed.value.stations.map(({ results }) => results[0]?.mean ?? Number.NaN);
const slope = (station: number, by = 0) => ((slopes[station] ?? Number.NaN) + by).toFixed(4);

describe('coming in', () => {
  it('takes the code, in small letters and with spaces too', async () => {
    const { lesson, join: come, student } = await startClass();
    const code = lesson.code();
    const answer = await come('red', 'A', ` ${code.slice(0, 3).toLowerCase()} ${code.slice(3)}`);
    expect(answer.status).toBe(303);
    const page = await student('/', answer.cookie);
    expect(page.text).toContain('1.25 m');
    expect(page.text).toContain('<strong>Group red, station A</strong>');
  });

  it('refuses a wrong code, and after eight of them hears nothing from that address for a while', async () => {
    const { join: come, pass, teacher } = await startClass();
    for (let time = 0; time < 8; time++) expect((await come('red', 'A', 'AAAAA1')).status).toBe(403);
    const late = await come('red', 'A');
    expect([late.status, late.headers['retry-after'], late.cookie]).toEqual([429, '15', '']);
    expect((await teacher('/')).text).toContain('No group is in yet.');
    pass(15);
    expect((await come('red', 'A')).status).toBe(303);
  });

  it('refuses stations that are forged or taken, and seals that are not its own', async () => {
    const { join: come, enter, student, teacher } = await startClass();
    expect((await come('red', 'A')).status).toBe(303);
    expect((await come('blue', 'Z 9')).status).toBe(422);
    expect((await come('blue', 'A')).status).toBe(409);
    for (const seal of ['group=1.00', 'group=1', `group=1.${'0'.repeat(64)}`, 'group=__proto__']) {
      expect((await enter(seal, { slope: '3' })).status).toBe(403);
      expect((await student('/', seal)).text).toContain('Code of the lesson');
    }
    expect((await teacher('/entries.csv')).text.trim().split('\r\n')).toHaveLength(1);
  });

  it('lets several phones of one group in, each at the station that the group has', async () => {
    const { join: come } = await startClass();
    const first = await come('red', 'A');
    expect((await come('Red', 'B')).cookie).toBe(first.cookie);
  });

  it('answers no page of another place', async () => {
    const { lesson } = await startClass();
    const { ask } = await import('./talk.ts');
    const from = (headers: Readonly<Record<string, string>>) =>
      ask(lesson, '/join', { method: 'POST', headers, body: 'code=x' });
    expect((await from({ Origin: 'http://elsewhere.example' })).status).toBe(403);
    expect((await from({ Host: `elsewhere.example:${lesson.port}` })).status).toBe(403);
    expect((await from({ 'Sec-Fetch-Site': 'cross-site' })).status).toBe(403);
  });
});

describe('entering', () => {
  it('says at once whether a number is plausible, and neither which way nor how far it is off', async () => {
    const { join: come, enter, pass, student } = await startClass();
    const { cookie } = await come('red', 'A');
    const told = async (text: string) => {
      pass(60);
      expect((await enter(cookie, { slope: text })).status).toBe(303);
      const { text: page } = await student('/', cookie);
      expect(page.match(new RegExp(slope(0), 'g'))?.length ?? 0).toBe(text === slope(0) ? 1 : 0);
      return /<tbody>.*?<\/td><td>(.*?)<\/td>/s.exec(page)?.[1];
    };
    const far = await told(slope(0, 1));
    expect(far).toContain('not plausible');
    expect(await told(slope(0, -1))).toBe(far);
    // Digits that say nothing excuse nothing.
    expect(await told('1e9')).toBe(far);
    expect(await told(slope(0))).toMatch(/^plausible/);
  });

  it('names a number that is none, and keeps nothing of that form', async () => {
    const { join: come, enter, teacher } = await startClass();
    const { cookie } = await come('red', 'A');
    const answer = await enter(cookie, { slope: '=2+3', b: '1' });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('&quot;=2+3&quot; is not a number');
    expect((await enter(cookie, {})).text).toContain('No number was entered');
    expect((await teacher('/entries.csv')).text.trim().split('\r\n')).toHaveLength(1);
  });

  it('refuses a group that is too fast, and says when it may again', async () => {
    const { join: come, enter, pass } = await startClass();
    const { cookie } = await come('red', 'A');
    const statuses: number[] = [];
    for (let time = 0; time < 7; time++) statuses.push((await enter(cookie, { slope: '3' })).status);
    expect(statuses).toEqual([303, 303, 303, 303, 303, 429, 429]);
    const answer = await enter(cookie, { slope: '3' });
    expect([answer.headers['retry-after'], answer.text.includes('too fast')]).toEqual(['4', true]);
    pass(4);
    expect((await enter(cookie, { slope: '3' })).status).toBe(303);
  });

  it('takes readings through the reduction and keeps their bytes; those of another experiment it returns', async () => {
    const { join: come, send, student, teacher } = await startClass();
    const { cookie } = await come('red', 'C');
    const bytes = await readFile(join(shippedLabs, 'draped-chain', 'trials', 'draped-1-2.csv'));
    expect((await send(cookie, '../<b>.csv', bytes)).status).toBe(303);
    expect((await student('/', cookie)).text).toMatch(/from \.\. &lt;b&gt;\.csv<\/td><td>plausible/);
    const kept = await teacher('/readings/1');
    expect([kept.status, kept.body.length]).toEqual([200, bytes.length]);
    expect(kept.body.equals(bytes)).toBe(true);
    expect((await teacher('/entries.csv')).text).toContain(createHash('sha256').update(bytes).digest('hex'));
    const other = Buffer.from('temperature (°C),mass (g)\n20,1\n21,2\n22,3\n');
    const answer = await send(cookie, 'other.csv', other);
    expect([answer.status, answer.text.includes('Is it the file of another experiment?')]).toEqual([
      422,
      true,
    ]);
    expect((await teacher('/readings/2')).status).toBe(404);
  });

  it('refuses 100 MB before they are sent', async () => {
    const { lesson, join: come } = await startClass();
    const { cookie } = await come('red', 'A');
    const status = await new Promise<number | undefined>((resolve, reject) => {
      const sent = request({
        host: '127.0.0.1',
        port: lesson.port,
        path: '/readings',
        method: 'POST',
        headers: {
          Origin: `http://127.0.0.1:${lesson.port}`,
          Cookie: cookie,
          'Content-Type': 'multipart/form-data; boundary=x',
          'Content-Length': String(100 * 2 ** 20),
        },
      });
      sent.on('response', (answer) => {
        resolve(answer.statusCode);
        sent.destroy();
      });
      sent.on('error', reject);
      sent.write('--x\r\n');
    });
    expect(status).toBe(413);
  });

  it('holds sixty groups at once and keeps what each entered over a restart', async () => {
    const { lesson, entries, join: come, enter } = await startClass(60);
    const stations = listStations(pipeline.lab, { groups: 60 }).map(({ name }) => name);
    const statuses = await Promise.all(
      stations.map(async (station, index) => {
        const { cookie } = await come(`team ${index}`, station);
        return (await enter(cookie, { slope: (2 + index / 100).toFixed(2) })).status;
      }),
    );
    expect(new Set(statuses)).toEqual(new Set([303]));
    const code = lesson.code();
    await lesson.close();
    const again = await startClass(60, entries);
    expect(again.lesson.code()).toBe(code);
    const lines = (await again.teacher('/entries.csv')).text.trim().split('\r\n').slice(1);
    const found = lines
      .map((line) => line.split(','))
      .map(([group, station, , , value]) => [group, station, value]);
    expect(new Map(found.map((row) => [row[0], row.slice(1)]))).toEqual(
      new Map(stations.map((station, index) => [`team ${index}`, [station, String((200 + index) / 100)]])),
    );
  });
});

describe("the teacher's pages", () => {
  it('are no part of what students reach, and refuse every address but this computer itself', async () => {
    const { lesson, student, teacher } = await startClass();
    for (const path of ['/entries.csv', '/live', '/live.js', '/readings/1'])
      expect((await student(path)).status).toBe(404);
    expect((await teacher('/', undefined, `192.0.2.7:${lesson.teacherPort}`)).status).toBe(403);
    expect((await teacher('/entries.csv', undefined, `school.example:${lesson.teacherPort}`)).status).toBe(
      403,
    );
    const reached = await new Promise<boolean>((resolve) => {
      const socket = connect({ host: '127.0.0.2', port: lesson.teacherPort });
      socket.on('connect', () => resolve(true)).on('error', () => resolve(false));
    });
    expect(reached).toBe(false);
  });

  it('show the class result and its figure fill, without the groups that are left out', async () => {
    const { join: come, enter, teacher } = await startClass();
    expect((await teacher('/live')).text).toContain('0 of 3 stations');
    for (const [index, station] of ['A', 'B', 'C'].entries()) {
      const { cookie } = await come(`team ${station}`, station);
      expect((await enter(cookie, { slope: slope(index) })).status).toBe(303);
    }
    const { text } = await teacher('/live');
    expect(text).toContain('from 3 groups');
    expect(text).toContain('<svg');
    // The groups entered what they are expected to, so the class finds g, which the lab has as 9.81 m/s^2.
    expect(Number(/\(g_class\): <strong>\(?([\d.]+)/.exec(text)?.[1])).toBeCloseTo(9.81, 0);
    expect((await teacher('/groups/1/set-aside', {})).status).toBe(303);
    expect((await teacher('/live')).text).not.toContain('from 3 groups');
    expect((await teacher('/groups/1/count', {})).status).toBe(303);
    expect((await teacher('/live')).text).toContain('from 3 groups');
  });

  it('export what a spreadsheet would run as text, and show markup as text', async () => {
    const { join: come, enter, teacher } = await startClass();
    const bad = await come('=HYPERLINK("x")', 'A');
    await enter(bad.cookie, { slope: '-3.5' });
    const worse = await come('<script>x</script>', 'B');
    await enter(worse.cookie, { slope: '3.5' });
    const csv = (await teacher('/entries.csv')).text;
    expect(csv).toContain(`"'=HYPERLINK(""x"")",A,`);
    expect(csv).toContain('slope,-3.5,,1/s,-3.5,');
    const page = (await teacher('/')).text;
    expect(page).not.toContain('<script>x');
    expect(page).toContain('&lt;script&gt;x');
  });

  it('may be open twice: what one deleted is deleted for both, and an old page deletes nothing new', async () => {
    const { lesson, join: come, enter, pass, student, teacher } = await startClass();
    const { cookie } = await come('red', 'A');
    await enter(cookie, { slope: '3' });
    await enter(cookie, { slope: '3.1' });
    expect((await teacher('/entries/1/delete', {})).status).toBe(303);
    expect((await teacher('/entries/1/delete', {})).status).toBe(303);
    expect((await teacher('/entries.csv')).text).toContain('3.1');
    const code = lesson.code();
    expect((await teacher('/delete-all', { code: 'no' })).status).toBe(422);
    expect((await teacher('/delete-all', { code })).status).toBe(303);
    expect((await student('/', cookie)).text).toContain('Code of the lesson');
    pass(60);
    const next = await come('blue', 'B');
    await enter(next.cookie, { slope: '3.2' });
    expect((await teacher('/delete-all', { code })).status).toBe(422);
    expect((await teacher('/entries.csv')).text).toContain('3.2');
  });
});

describe('the file of a lesson', () => {
  it('holds nothing of what was deleted, and is gone after a lesson that is empty', async () => {
    const { lesson, entries, join: come, teacher } = await startClass();
    await come('a very peculiar name', 'A');
    await teacher('/delete-all', { code: lesson.code() });
    for (const end of ['', '-wal']) {
      const bytes = await readFile(`${entries}${end}`).catch(() => Buffer.alloc(0));
      expect(bytes.includes('a very peculiar name')).toBe(false);
    }
    await lesson.close();
    await expect(stat(entries)).rejects.toThrow();
  });

  it('may be open in two lessons at once: both have its groups, entries and code, after a deletion too', async () => {
    const one = await startClass();
    const two = await startClass(3, one.entries);
    const { cookie } = await one.join('red', 'A');
    expect((await two.enter(cookie, { slope: '3.25' })).status).toBe(303);
    expect((await one.teacher('/entries.csv')).text).toContain('3.25');
    const before = one.lesson.code();
    expect((await one.teacher('/delete-all', { code: before })).status).toBe(303);
    expect(two.lesson.code()).toBe(one.lesson.code());
    expect(two.lesson.code()).not.toBe(before);
    expect((await two.enter(cookie, { slope: '3.25' })).status).toBe(403);
    expect((await two.join('blue', 'A')).status).toBe(303);
    expect((await one.teacher('/')).text).toContain('blue');
  });

  it('is refused where it is that of another lesson, or none at all', async () => {
    const folder = await makeFolder();
    const own = await openEntryStore(join(folder, 'a.db'), 'one lesson');
    if (!own.ok) throw new Error('not opened');
    own.value.join('red', 'A');
    await own.value.close();
    const other = await openEntryStore(join(folder, 'a.db'), 'another lesson');
    expect(other.ok ? '' : other.problems[0]?.message).toContain('it holds the entries of another lesson');
    const text = 'these are notes of somebody, long enough to be no header of a database at all. '.repeat(20);
    await writeFile(join(folder, 'b.db'), text);
    expect((await openEntryStore(join(folder, 'b.db'), 'one lesson')).ok).toBe(false);
    expect(await readFile(join(folder, 'b.db'), 'utf8')).toBe(text);
  });
});
