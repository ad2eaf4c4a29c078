import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { darkTheme, type Figure, figureToSvg, lightTheme, sizes } from '../../src/figure/index.ts';
import { allFigures, ENGLISH, GERMAN } from './figures.ts';

/**
 * One figure of every kind as it was looked at and found good. After a change that is meant, run the test once with
 * UPDATE_FIGURES=1 and look at every picture that changed before it is committed.
 */
const folder = fileURLToPath(new URL('expected/', import.meta.url));

/** Machines may differ in the last digits of a logarithm: places are compared to a tenth of a point. */
function round(svg: string): string {
  return svg.replace(/-?\d+\.\d+/g, (number) => String(Math.round(Number(number) * 10) / 10 + 0));
}

function expectAsBefore(name: string, svg: string): void {
  const file = `${folder}${name}.svg`;
  if (process.env.UPDATE_FIGURES === '1') writeFileSync(file, svg);
  expect(round(svg)).toBe(round(readFileSync(file, 'utf8')));
}

const english: readonly (readonly [string, Figure])[] = [...allFigures(ENGLISH)];

describe('figures look as they did', () => {
  it.each(english)('%s', (name, figure) => {
    expectAsBefore(name, figureToSvg(figure, { theme: lightTheme, size: sizes.column }));
  });

  it('in German, on dark paper, for a slide', () => {
    const figures = allFigures(GERMAN);
    for (const name of ['fit', 'ledger']) {
      const figure = figures.get(name);
      if (figure === undefined) throw new Error(`no figure ${name}`);
      expectAsBefore(`${name}-de-dark-slide`, figureToSvg(figure, { theme: darkTheme, size: sizes.slide }));
    }
  });
});
