import { existsSync, readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readLab } from '../../src/lab/index.ts';
import { change, problemsOf, SLOPE_LAB, sentencesOn } from './slope-lab.ts';

const labs = readdirSync(new URL('../../labs/', import.meta.url))
  .map((name) => new URL(`../../labs/${name}/lab.yaml`, import.meta.url))
  .filter((file) => existsSync(file))
  .map((file) => readFileSync(file, 'utf8'));

/** Reads a text that may be anything; what comes back are sentences, each with its place. */
function expectSentences(text: string): void {
  const lab = readLab(text, 'lab.yaml');
  for (const found of lab.ok ? lab.warnings : lab.problems) {
    expect(found.message).toMatch(/^.{8,}[.?]$/s);
    expect(found.message).not.toMatch(/\[object|\bundefined\b|TypeError/);
    expect(found.place).toMatchObject({ file: 'lab.yaml' });
  }
}

/** One slip of the hand: a line lost, doubled or moved, a character lost, added or changed. */
const slip = fc.record({
  kind: fc.constantFrom('delete line', 'double line', 'swap lines', 'delete', 'insert', 'replace'),
  line: fc.nat(),
  other: fc.nat(),
  column: fc.nat(),
  character: fc.constantFrom(...'{}[]():,"\'#*&!|>-^/+0129eE.xv_ \t°µ√\u0000λ=<%~?@`;'),
});

function applySlip(
  lines: string[],
  { kind, line, other, column, character }: typeof slip extends fc.Arbitrary<infer S> ? S : never,
): void {
  const at = line % lines.length;
  const to = other % lines.length;
  const here = lines[at] ?? '';
  const there = lines[to] ?? '';
  const place = column % (here.length + 1);
  if (kind === 'delete line') lines.splice(at, 1);
  else if (kind === 'double line') lines.splice(to, 0, here);
  else if (kind === 'swap lines') [lines[at], lines[to]] = [there, here];
  else {
    const kept = kind === 'insert' ? place : place + 1;
    lines[at] = `${here.slice(0, place)}${kind === 'delete' ? '' : character}${here.slice(kept)}`;
  }
}

describe('whatever the file holds, the reader answers in sentences', () => {
  it('to the shipped labs with up to four slips of the hand', () => {
    fc.assert(
      fc.property(fc.constantFrom(...labs), fc.array(slip, { minLength: 1, maxLength: 4 }), (text, slips) => {
        const lines = text.split('\n');
        for (const one of slips) applySlip(lines, one);
        expectSentences(lines.join('\n'));
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('to random bytes', () => {
    const bytes = fc.uint8Array({ maxLength: 300 });
    fc.assert(
      fc.property(bytes, (raw) => {
        expectSentences(Buffer.from(raw).toString('latin1'));
        expectSentences(Buffer.from(raw).toString('utf8'));
      }),
      { seed: 12, numRuns: 300 },
    );
  });

  it('to pieces of a lab in any order', () => {
    const pieces = labs.flatMap((text) => text.split(/(?<=[\s{},:[\]])/));
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...pieces), { maxLength: 80 }), (parts) =>
        expectSentences(parts.join('')),
      ),
      { seed: 13, numRuns: 300 },
    );
  });

  it('to a lab in which any one value is a map, a list, nothing, or a number of no size', () => {
    const values = ['{ a: 1 }', '[1, 2]', '', 'true', '-1', '1e308', '.inf', '"', "''", '0'];
    const places = [...SLOPE_LAB.matchAll(/: ([^:{}[\],\n]+)/g)].map(
      ({ index, 1: value = '' }) => [index + 2, value.length] as const,
    );
    for (const [start, length] of places) {
      for (const value of values) {
        expectSentences(`${SLOPE_LAB.slice(0, start)}${value}${SLOPE_LAB.slice(start + length)}`);
      }
    }
  });
});

describe('a stranger cannot keep the reader busy', () => {
  const many = (count: number, entry: (index: number) => string) =>
    Array.from({ length: count }, (_, index) => entry(index)).join('\n');

  it('with a chain of thousands of definitions', () => {
    const chain = change(SLOPE_LAB, [
      'effects:',
      `${many(20_000, (i) => `  q${i}: { equals: q${i + 1} }`)}\neffects:`,
    ]);
    expect(sentencesOn(chain)).toEqual([
      'lab.yaml:3:1  "quantities" has 20006 entries; a lab has at most 1000.',
    ]);
  });

  it('with helpers that double at every step', () => {
    const helpers = many(60, (i) => `  h${i + 1}: h${i} + h${i}`);
    const doubling = change(SLOPE_LAB, ['  pull: w', `  h0: w\n${helpers}\n  pull: h60`]);
    expect(problemsOf(doubling)).toEqual([]);
    const withDerivation = change(doubling, ['v^2 = 2*g*sin(alpha)*x', '0*v^2 = h60*x/m']);
    expect(problemsOf(withDerivation).length).toBeLessThan(2);
  });

  it('with a plan of ten to the ten runs', () => {
    const quantity = (i: number) => `  q${i}: { value: 1 m }`;
    const setting = (i: number) => `    q${i}: [1 m, 2 m, 3 m, 4 m, 5 m, 6 m, 7 m, 8 m, 9 m, 10 m]`;
    const text = change(
      SLOPE_LAB,
      ['effects:', `${many(10, quantity)}\neffects:`],
      ['plan: { repeats: 3 }', `plan:\n  settings:\n${many(10, setting)}`],
    );
    expect(sentencesOn(text)).toEqual([
      'lab.yaml:41:1  The plan asks for 10000000000 runs; a plan has at most 10000. List fewer values, fewer quantities or fewer repeats.',
    ]);
    expect(sentencesOn(change(SLOPE_LAB, ['repeats: 3', 'repeats: 100000']))).toEqual([
      'lab.yaml:31:1  The plan asks for 100000 runs; a plan has at most 10000. List fewer values, fewer quantities or fewer repeats.',
    ]);
  });

  it('with an expression of a hundred thousand signs', () => {
    expect(sentencesOn(change(SLOPE_LAB, ['equals: m*g', `equals: m*g${'+m*g'.repeat(25_000)}`]))).toEqual([
      expect.stringContaining('at most 20000 are read'),
    ]);
    expect(
      sentencesOn(change(SLOPE_LAB, ['equals: m*g', `equals: ${'('.repeat(9000)}m*g${')'.repeat(9000)}`])),
    ).toHaveLength(1);
  });
});
