import { describe, expect, it } from 'vitest';
import { evolve } from '../../src/evolve/index.ts';
import { buildModel } from '../../src/model/index.ts';
import { formatProblem } from '../../src/problem/index.ts';
import { type ModelTexts, modelOf, sourceOf, unwrap, valuesOf } from '../evolve/model-from-texts.ts';

/** A model whose rate stands on a chain of helpers, each made of the one before. */
function chain(length: number, link: (before: string) => string): ModelTexts {
  const helpers = Array.from({ length }, (_, i) => [`h_${i}`, link(i === 0 ? 'x' : `h_${i - 1}`)] as const);
  return {
    parameters: { l: [1, 'm'], k: [2, '1/s^2'] },
    helpers: Object.fromEntries(helpers),
    states: { x: ['l', 'v'], v: ['0 m/s', `-k*h_${length - 1}`] },
    lasts: '1/sqrt(k)',
  };
}

const nested = (before: string): string => `l*${'sin('.repeat(30)}${before}/l${')'.repeat(30)}`;

describe('helpers that chain', () => {
  it.each([
    ['sums', 1000, (before: string) => `${before} + l/1e9`],
    ['signs', 1000, (before: string) => `-(-${before})`],
    ['quotients', 700, (before: string) => `l^2/(l + ${before})`],
    ['squares', 300, (before: string) => `${before}*${before}/l`],
    ['deep nests', 60, nested],
  ])('%s, %i of them, are followed', (_, length, link) => {
    expect(buildModel(sourceOf(chain(length, link))).ok).toBe(true);
  });

  it('a thousand sums evolve as one expression does', () => {
    const long = chain(1000, (before) => `${before} + l/1000`);
    const short = { ...long, helpers: {}, states: { x: ['l', 'v'], v: ['0 m/s', '-k*(x + l)'] } } as const;
    const ends = [long, short].map((texts) => {
      const motion = unwrap(evolve(modelOf(texts), valuesOf(texts)));
      const state = new Float64Array(2);
      motion.stateAt(motion.endS, state);
      return state[0];
    });
    expect(ends[0]).toBeCloseTo(ends[1], 10);
  });

  it.each([
    ['abs', (before: string) => `abs(${before} - l/3)`],
    ['if', (before: string) => `if(${before} > l/3, ${before}, ${before} + l/7)`],
    ['min', (before: string) => `min(${before} + l/9, l)`],
  ])('%s in each link is refused in a sentence, beyond 64 places', (_, link) => {
    const built = buildModel(sourceOf(chain(90, link)));
    const told = built.ok ? [] : built.problems.map(formatProblem);
    expect(told).toHaveLength(1);
    expect(told[0]).toContain('switch at more than 64 places');
  });

  it('a switch whose function is long is told by its symbols', () => {
    const texts = {
      ...chain(40, (before) => `${before}*${before}/l`),
      stops: { far: 'h_39 > 2 m' },
    };
    const model = modelOf(texts);
    expect(model.program.switches[0]?.text).toBe('an expression of l and x');
  });
});
