import { describe, expect, it } from 'vitest';
import { readTrial } from '../../src/lab/trial/index.ts';
import { fitTable, type TableFitRequest } from '../../src/run/index.ts';

type Asked = Omit<Partial<TableFitRequest>, 'start'> & { readonly start?: Readonly<Record<string, number>> };

async function fitted(text: string, of: string, asked: Asked = {}) {
  const table = await readTrial(new TextEncoder().encode(text), { file: 'a.csv' });
  if (!table.ok) throw new Error(table.problems.map(({ message }) => message).join('\n'));
  const start = new Map(Object.entries(asked.start ?? {}));
  return fitTable(table.value, { ...asked, of, start }, 'a.csv');
}

const line = 'x,y,u,w\n1,2,0.1,1\n2,3.1,0.1,1\n3,5,0.1,1\n4,6.5,0.1,1\n5,9,0.1,1\n';

describe('what is wrong with a fit is told in a sentence', () => {
  it.each<readonly [string, string, string, Asked, string, string]>([
    ['one reading', 'x,y\n1,2\n', 'y = a + b*x', {}, 'too-few-readings', '1 reading is left'],
    ['identical x', 'x,y\n2,2\n2,3\n2,5\n', 'y = a + b*x', {}, 'singular-design', 'every x is alike'],
    ['twice the same column', line, 'y = a*x + b*x', {}, 'singular-design', 'cannot tell a and b apart'],
    ['no influence', line, 'y = a*x + 0*b', {}, 'no-influence', 'b has no influence'],
    ['an infinite reading', 'x,y\n1,2\n2,1e400\n3,4\n4,5\n', 'y = a + b*x', {}, 'not-finite', 'Infinity'],
    [
      'a root of a negative number',
      'x,y\n-1,1\n0,2\n1,3\n',
      'y = a*sqrt(x)+b',
      {},
      'not-finite',
      'reading 1',
    ],
    [
      'u = 0',
      line.replace('3.1,0.1', '3.1,0'),
      'y = a + b*x',
      { uy: 'u' },
      'zero-weight',
      'reading 2 of y is 0',
    ],
    [
      'a negative weight',
      line.replace('5,0.1,1', '5,0.1,-1'),
      'y = a + b*x',
      { weights: 'w' },
      'bad-weight',
      'reading 3 is -1',
    ],
    [
      'weights 0 throughout',
      line.replaceAll(',1\n', ',0\n'),
      'y = a + b*x',
      { weights: 'w' },
      'too-few-readings',
      '0 readings',
    ],
    [
      'a start out of the domain',
      line,
      'y = a*ln(b - x)',
      { start: { a: 1, b: 2 } },
      'outside-domain',
      'At the start',
    ],
    [
      'no start',
      line,
      'y = a*exp(-b*x) + c',
      { start: { a: 1 } },
      'start-missing',
      'b and c have no start value',
    ],
    ['no parameter', line, 'y = 3*x', {}, 'nothing-free', 'x is a column'],
  ])('%s', async (_, text, of, asked, code, words) => {
    const outcome = await fitted(text, of, asked);
    const problems = outcome.ok ? [] : outcome.problems;
    expect(problems.map((found) => found.code)).toContain(code);
    expect(problems.map(({ message }) => message).join('\n')).toContain(words);
  });

  it('readings of weight 0 do not count, and this is said', async () => {
    const outcome = await fitted(line.replace('3.1,0.1,1', '99,0.1,0'), 'y = a + b*x', { weights: 'w' });
    if (!outcome.ok) throw new Error('no fit');
    expect(outcome.value.readings).toBe(4);
    expect(outcome.warnings.map(({ message }) => message)).toEqual([
      '1 row has weight 0 and does not count.',
    ]);
  });

  it('parameters that can only be known together have no uncertainty of their own', async () => {
    const outcome = await fitted(line, 'y = a*b*x + c', { start: { a: 1, b: 1, c: 0 } });
    if (!outcome.ok) throw new Error('no fit');
    const u = outcome.value.parameters.map(({ standardUncertainty }) => standardUncertainty);
    expect(u.slice(0, 2)).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
    expect(u[2]).toBeGreaterThan(0);
    expect(u[2]).toBeLessThan(1);
    expect(outcome.value.fit.degreesOfFreedom).toBe(3);
    expect(outcome.warnings.map(({ code }) => code)).toEqual(['no-influence']);
  });

  it('columns that differ by rounding only are fitted with a word on the digits lost', async () => {
    const rows = Array.from(
      { length: 12 },
      (_, i) => `${i},${i * (1 + 1e-9 * ((i * 7) % 5))},${2 * i + (i % 3)}`,
    );
    const outcome = await fitted(`x,z,y\n${rows.join('\n')}\n`, 'y = a + b*x + c*z');
    if (!outcome.ok) throw new Error('no fit');
    expect(outcome.warnings.map(({ code }) => code)).toEqual(['ill-conditioned']);
  });
});
