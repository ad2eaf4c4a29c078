import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { completeLab, explainLab } from '../../src/edit/index.ts';

const lab = `benchwright: 1
title: A swing
quantities:
  l: { is: length of the cord, value: 1 m }
  g: { is: local gravity, value: 9.81 m/s^2 }
where:
  w: sqrt(g/l)
effects:
  none: { off: { l: 1 m } }
model:
  start: { phi: 0.1, w_0: 0 }
  rates:
    phi: w_0
instruments:
  eye: { kind: stopwatch, of: phi }
reduction:
  each run:
    - keep: { while: t > 1 s }
trials:
  - { file: a.csv, reads: { eye: time } }
`;

/** Labels offered where "|" stands in a line that takes the place of another. */
function offered(find: string, put: string): readonly string[] | null {
  const text = lab.replace(find, put);
  const offset = text.indexOf('|');
  return completeLab(text.replace('|', ''), offset)?.items.map(({ label }) => label) ?? null;
}

describe('completion', () => {
  it('knows the keys of a section, half written or not, without those that are there', () => {
    expect(offered('value: 1 m }', 'value: 1 m, wi| }')).toEqual(['within']);
    expect(offered('value: 1 m }', 'value: 1 m, | }')).toEqual(
      expect.arrayContaining(['u', 'within', 'from']),
    );
    expect(offered('value: 1 m }', 'value: 1 m, | }')).not.toContain('is');
    expect(offered('effects:\n', 'effe|\n')).toEqual(['effects']);
    expect(offered('  rates:\n', '  ho|\n  rates:\n')).toEqual(['holds while']);
  });

  it('says what a key is for, and puts its colon', () => {
    const text = lab.replace('value: 1 m }', 'value: 1 m, u }');
    const found = completeLab(text, text.indexOf(', u }') + 3);
    expect(found?.items[0]).toEqual({
      label: 'u',
      insert: 'u: ',
      kind: 'key',
      what: 'Standard uncertainty, with its unit.',
    });
    expect(text.slice(found?.from, found?.to)).toBe('u');
  });

  it('knows kinds of instruments, their settings, and steps', () => {
    expect(offered('kind: stopwatch', 'kind: s|')).toEqual(expect.arrayContaining(['stopwatch', 'sampled']));
    expect(offered('of: phi }', 'of: phi, re| }')).toEqual(expect.arrayContaining(['reaction']));
    expect(offered('    - keep', '    - li|\n    - keep')).toEqual(['line']);
    expect(offered('while: t > 1 s', 'f|')).toEqual(['from']);
  });

  it('knows symbols and functions in expressions, and none in words', () => {
    expect(offered('sqrt(g/l)', 's|')).toEqual(expect.arrayContaining(['sqrt', 'sin']));
    expect(offered('sqrt(g/l)', 'sqrt(g/|)')).toEqual(expect.arrayContaining(['l', 'g', 'phi', 'abs']));
    expect(offered('length of the cord', 'le|')).toBeNull();
    expect(offered('title: A swing', 'title: A sw|')).toBeNull();
    expect(offered('title: A swing', 'title: A swing # g|')).toBeNull();
  });

  it('knows the units behind a number', () => {
    expect(offered('value: 1 m }', 'value: 1 m| }')).toEqual(
      expect.arrayContaining(['m', 'mm', 'min', 'mol']),
    );
    expect(offered('value: 9.81 m/s^2', 'value: 9.81 m/m|')).toEqual(expect.arrayContaining(['m', 'ms']));
    expect(offered('t > 1 s', 't > 1 m and ph|')).toEqual(['phi']);
    expect(offered('t > 1 s', 't > 1 m|')).toEqual(expect.arrayContaining(['ms', 'min']));
  });

  it('knows quantities where they are set, instruments where they are read', () => {
    expect(offered('off: { l: 1 m }', 'off: { | }')).toEqual(['l', 'g']);
    expect(offered('reads: { eye: time }', 'reads: { | }')).toEqual(['eye']);
  });

  it('never throws, wherever the cursor stands and however broken the text', () => {
    const shipped = readFileSync(new URL('../../labs/tow-chain/lab.yaml', import.meta.url), 'utf8').slice(
      0,
      3500,
    );
    fc.assert(
      fc.property(fc.nat(shipped.length), fc.nat(60), fc.string({ maxLength: 4 }), (at, gone, put) => {
        const text = shipped.slice(0, at) + put + shipped.slice(at + gone);
        const found = completeLab(text, at);
        if (found !== null) expect([found.from <= at, found.to]).toEqual([true, at]);
        explainLab(text, at);
      }),
      { seed: 20_260_305, numRuns: 60 },
    );
  });
});

describe('explanation', () => {
  const explained = (word: string, skip = 0) => explainLab(lab, lab.indexOf(word) + skip)?.what ?? null;

  it('says what a key, a symbol or a function is', () => {
    expect(explained('value: 1 m')).toBe('Value with its unit, such as 1.2 m.');
    expect(explained('g/l', 0)).toBe('local gravity, 9.81 m/s^2');
    expect(explained('sqrt(', 1)).toMatch(/^sqrt\(x\): /);
    expect(explained('effects')).toBe('What the ideal theory leaves out, and what switches it off.');
  });

  it('says nothing of words', () => {
    expect(explained('length of', 2)).toBeNull();
  });
});
