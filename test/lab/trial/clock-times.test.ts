import { describe, expect, it } from 'vitest';
import { notesOf, numbers, read } from './reading.ts';

const column = (heading: string, times: readonly string[]): string =>
  `${heading};x\n${times.map((time, n) => `${time};${n},5`).join('\n')}\n`;

async function secondsOf(
  heading: string,
  times: readonly string[],
  units?: Record<string, string>,
): Promise<number[]> {
  return numbers(await read(column(heading, times), units === undefined ? {} : { units }))[0] ?? [];
}

describe('clock times are read as seconds', () => {
  it.each([
    ['hh:mm:ss', ['10:00:00', '10:00:01', '10:01:00'], [36000, 36001, 36060]],
    ['with a fraction', ['00:00:00.1', '00:00:00.25', '00:01:00.125'], [0.1, 0.25, 60.125]],
    ['with a decimal comma', ['00:00:00,1', '00:00:00,25'], [0.1, 0.25]],
    ['mm:ss with a fraction', ['59:59.9', '60:00.0', '60:00.5'], [3599.9, 3600, 3600.5]],
    ['in two halves of the day', ['11:59:59 AM', '12:00:00 PM', '1:00:00 pm'], [43199, 43200, 46800]],
    ['past midnight', ['23:59:59', '00:00:01', '00:00:03'], [86399, 86401, 86403]],
    [
      'ISO 8601 with a date',
      ['2024-02-28T23:59:59', '2024-02-29T00:00:00', '2024-03-01T00:00:01.5'],
      [86399, 86400, 172801.5],
    ],
    ['with a date, day first', ['31.12.2023 23:59:58', '01.01.2024 00:00:00'], [86398, 86400]],
    ['with a date, month first', ['12/31/2023 23:59:58', '1/1/2024 0:00:00'], [86398, 86400]],
  ])('%s', async (_, times, expected) => {
    expect(await secondsOf('clock', times)).toEqual(expected);
  });

  it('and their column has the unit s', async () => {
    const table = await read(column('clock', ['10:00:00', '10:00:01']));
    expect(table.columns[0]?.unit?.text).toBe('s');
    expect(table.recognised.clockColumns).toEqual(['clock']);
  });

  it('as exactly, and with spoilt cells told, beyond the first lines', async () => {
    const written = (n: number): string => {
      const half = (22 * 3600 + n * 37) % 86_400;
      const parts = [Math.floor(half / 3600), Math.floor(half / 60) % 60, half % 60];
      const [hours, minutes, seconds] = parts.map((part) => String(part).padStart(2, '0'));
      return `${hours}:${minutes}:${seconds}.${String((n * 7919) % 1000).padStart(3, '0')}`;
    };
    const rows = Array.from({ length: 400 }, (_, n) => `${n === 300 ? '10:61:00' : written(n)};${n}`);
    const table = await read(`clock;n\n${rows.join('\n')}\n`);
    const expected = Array.from({ length: 400 }, (_, n) => {
      const whole = 22 * 3600 + n * 37;
      return n === 300
        ? Number.NaN
        : Number(`${whole % 86_400}.${String((n * 7919) % 1000).padStart(3, '0')}`) +
            86_400 * Math.floor(whole / 86_400);
    });
    expect(numbers(table)[0]).toEqual(expected);
    expect(table.columns[0]?.notNumbers.first[0]?.place.line).toBe(302);
  });

  it('between blanks, beside a date', async () => {
    const table = await read('2024-05-01 12:30:05 1.5\n2024-05-01 12:30:06 1.6\n');
    expect(numbers(table)).toEqual([
      [45005, 45006],
      [1.5, 1.6],
    ]);
  });

  it('of two parts are hours and minutes, with a note; minutes and seconds if the heading or the lab file says so', async () => {
    const times = ['0:10', '0:20', '1:05'];
    expect(await secondsOf('time', times)).toEqual([600, 1200, 3900]);
    expect(await secondsOf('time (mm:ss)', times)).toEqual([10, 20, 65]);
    expect(await secondsOf('time', times, { time: 'mm:ss' })).toEqual([10, 20, 65]);
    expect(notesOf(await read(column('time', times)), 'doubtful-clock')).toHaveLength(1);
    expect(
      notesOf(await read(column('time', times), { units: { time: 'hh:mm' } }), 'doubtful-clock'),
    ).toEqual([]);
  });

  it('of two parts beside three are minutes and seconds', async () => {
    expect(await secondsOf('time', ['59:58', '59:59', '1:00:00'])).toEqual([3598, 3599, 3600]);
  });

  it('dates that leave day and month open are told', async () => {
    const table = await read(column('when', ['1/5/2024 10:00:00', '2/5/2024 10:00:00']));
    expect(numbers(table)[0]).toEqual([36000, 122400]);
    expect(notesOf(table, 'doubtful-date')).toHaveLength(1);
  });

  it('a time that does not exist is no number', async () => {
    const table = await read(column('clock', ['10:00:00', '10:61:00', '10:02:00']));
    expect(table.columns[0]?.notNumbers.count).toBe(1);
  });
});
