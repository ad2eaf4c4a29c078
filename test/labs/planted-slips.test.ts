import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDerivation } from '../../src/run/index.ts';
import { pipelineFrom } from '../lab/slope-lab.ts';
import { must, SHIPPED } from './shipped-lab.ts';

const textOf = (name: (typeof SHIPPED)[number]) =>
  readFileSync(new URL(`../../labs/${name}/lab.yaml`, import.meta.url), 'utf8');

/** The places of all derivation lines in the text: where the equation begins, and its sides. */
const linesOf = (text: string) =>
  [...text.matchAll(/\{ line: "([^"]*?) = ([^"]*)"/g)].map(({ index, 1: left = '', 2: right = '' }) => ({
    at: index + '{ line: "'.length,
    left,
    right,
  }));

describe.each(SHIPPED)('in the derivation of %s', (name) => {
  const text = textOf(name);
  const lines = linesOf(text);

  it('a per cent too much on any one right side is the first false line, and nothing else is', () => {
    expect(lines.length).toBeGreaterThanOrEqual(3);
    for (const [index, { at, left, right }] of lines.entries()) {
      const slip = `${left} = 1.01*(${right})`;
      const spoilt = text.slice(0, at) + slip + text.slice(at + `${left} = ${right}`.length);
      const { firstFalse, lines: verdicts } = must(checkDerivation(pipelineFrom(spoilt)));
      expect([name, firstFalse]).toEqual([name, index]);
      expect(verdicts.filter(({ verdict }) => verdict === 'false')).toHaveLength(1);
      const found = verdicts[index];
      expect(found?.verdict === 'false' ? found.ratio : Number.NaN).toBeCloseTo(1 / 1.01, 6);
    }
  });
});
