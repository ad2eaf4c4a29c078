import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { copyLab, makeFolder, run, shippedLabs } from './run-in-memory.ts';

const folder = await makeFolder();
const lab = await copyLab('tow-chain', folder, 'fuzzed');
const labTexts = ['tow-chain', 'draped-chain', 'falling-chain', 'long-swing'].map((name) =>
  readFileSync(join(shippedLabs, name, 'lab.yaml')),
);

/** Whatever stands in the lab file: an exit code of the documented ones, words for people, never a stack. */
async function survives(bytes: Uint8Array): Promise<void> {
  await writeFile(join(lab, 'lab.yaml'), bytes);
  const { code, err } = await run(['check', 'fuzzed'], { folder });
  expect([0, 1, 2]).toContain(code);
  expect(err).not.toContain('inside benchwright');
  expect(err).not.toMatch(/^ +at .*:\d+:\d+/m);
  if (code !== 0) expect(err.trim()).not.toBe('');
}

/** Pieces that break readers more often than random bytes do. */
const piece = fc.oneof(
  fc.constantFrom(
    '{',
    '}',
    '[',
    ']',
    ': ',
    '- ',
    '"',
    "'",
    '|',
    '>',
    '&a',
    '*a',
    '!!js',
    '\t',
    '\0',
    '#',
    '---\n',
    '%',
  ),
  fc.constantFrom(
    'NaN',
    '1e999',
    '-1',
    '0',
    '1/0',
    '()',
    '^',
    "x''",
    'if(',
    'dry(',
    'integrate(x, x, 0, x)',
    '°',
    'm/s^2',
    'kg',
    'µ',
  ),
  fc.string({ maxLength: 6 }),
);

const mutation = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  remove: fc.nat({ max: 40 }),
  insert: piece,
});

describe('the reader of lab files', () => {
  it('answers random bytes with sentences', async () => {
    await fc.assert(fc.asyncProperty(fc.uint8Array({ maxLength: 400 }), survives), {
      seed: 20240,
      numRuns: 150,
    });
  });

  it('answers random mutations of the shipped labs with sentences, in bounded time', async () => {
    const mutated = fc
      .tuple(fc.constantFrom(...labTexts), fc.array(mutation, { minLength: 1, maxLength: 4 }))
      .map(([bytes, edits]) => {
        let text = bytes.toString('utf8');
        for (const { at, remove, insert } of edits) {
          const from = Math.floor(at * text.length);
          text = text.slice(0, from) + insert + text.slice(from + remove);
        }
        return Buffer.from(text);
      });
    await fc.assert(fc.asyncProperty(mutated, survives), { seed: 4711, numRuns: 150 });
  }, 60_000);

  it('answers numbers that were changed with sentences: models that run wild included', async () => {
    const numbers = /(?<=[ :(*+-])\d+(?:\.\d+)?(?=[ ,}\])*])/g;
    const changed = fc
      .tuple(
        fc.constantFrom(...labTexts),
        fc.nat(),
        fc.constantFrom('0', '1e-300', '1e12', '-7', '1e9', '0.5', '3.0e-9'),
      )
      .map(([bytes, which, number]) => {
        const text = bytes.toString('utf8');
        const places = [...text.matchAll(numbers)];
        const place = places[which % places.length];
        if (place === undefined) return bytes;
        return Buffer.from(text.slice(0, place.index) + number + text.slice(place.index + place[0].length));
      });
    await fc.assert(fc.asyncProperty(changed, survives), { seed: 99, numRuns: 60 });
  }, 60_000);
});
