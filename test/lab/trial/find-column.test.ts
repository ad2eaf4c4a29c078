import { describe, expect, it } from 'vitest';
import { findColumn } from '../../../src/lab/trial/index.ts';
import { formatProblem } from '../../../src/problem/index.ts';
import { read } from './reading.ts';

async function find(text: string, wanted: string, run?: number): Promise<string> {
  const outcome = findColumn(await read(text), wanted, run);
  if (!outcome.ok) return outcome.problems.map(formatProblem).join('\n');
  const { value, warnings } = outcome;
  return [`${value.position} of run ${value.run}`, ...warnings.map(formatProblem)].join(' | ');
}

const one = 'edge;edge time (s);mark\n1;0,5;a\n2;0,7;b\n';
const two = 't (s);x (m);t (s);x (m)\n0;1;0;5\n1;2;1;6\n';

describe('a column', () => {
  it.each([
    ['edge time (s)', '2 of run 1'],
    ['edge time', '2 of run 1'],
    ['Edge Time(s)', '2 of run 1'],
    ['column 2', '2 of run 1'],
    ['edge', '1 of run 1'],
  ])('is found as "%s"', async (wanted, expected) => {
    expect(await find(one, wanted)).toBe(expected);
  });

  it('that is not there: the message names the nearest and all', async () => {
    expect(await find(one, 'edge tme (s)')).toBe(
      'trials/a1.csv  There is no column "edge tme (s)". There are "edge" and "edge time (s)". Did you mean "edge time (s)"?',
    );
    expect(await find(one, 'voltage')).toBe(
      'trials/a1.csv  There is no column "voltage". There are "edge" and "edge time (s)".',
    );
  });

  it('of words says that it is one', async () => {
    expect(await find(one, 'mark')).toBe(
      'trials/a1.csv  Column "mark" holds words ("a" and "b"), not numbers.',
    );
  });

  it('of several runs is that of the run asked for', async () => {
    expect(await find(two, 't (s)', 2)).toBe('3 of run 2');
    expect(await find(two, 'Run 2: t (s)')).toBe('3 of run 2');
    expect(await find(two, 'x', 1)).toBe('2 of run 1');
    expect(await find(two, 'x', 3)).toBe(
      'trials/a1.csv  There is no column "x" in run 3. There are no named columns.',
    );
  });

  it('of several runs is that of the first, with a warning, where none is asked for', async () => {
    expect(await find(two, 'x (m)')).toBe(
      '2 of run 1 | trials/a1.csv  2 columns answer to "x (m)"; that of run 1 was taken (column 2 of the file). For another, write "Run 2: x (m)".',
    );
  });

  it('is found by the label of its run as the file writes it', async () => {
    const text = 'Lauf 7: t (s);Lauf 7: x (m);Lauf 9: t (s);Lauf 9: x (m)\n0;1;0;5\n1;2;1;6\n';
    expect(await find(text, 'Lauf 9: x (m)')).toBe('4 of run 2');
    expect(await find(text, 'Lauf 9: x')).toBe('4 of run 2');
  });

  it('that all runs share is found for each', async () => {
    expect(await find('t (s);F (N);F (N)\n0;1;2\n1;1;2\n', 't', 2)).toBe('1 of run 1');
  });

  it('whose exact heading stands once wins over the same name elsewhere', async () => {
    expect(await find('x (mm);x (cm)\n1;2\n3;4\n', 'x (cm)')).toBe('2 of run 1');
  });
});
