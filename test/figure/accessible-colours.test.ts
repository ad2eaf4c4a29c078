import { describe, expect, it } from 'vitest';
import { darkTheme, lightTheme, type SeriesRole, seriesStyles } from '../../src/figure/index.ts';

/** Relative luminance of #rrggbb, 0 to 1. Source: WCAG 2.2, definition of relative luminance. */
function luminance(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Source: WCAG 2.2, definition of contrast ratio. */
function contrast(a: string, b: string): number {
  const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
}

/** Lightness L* of CIE 1976: what is left of a colour printed in grey; 0 to 100. */
function lightness(colour: string): number {
  const y = luminance(colour);
  return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (24389 / 27) * y;
}

/** Roles that stand in one plot. */
const together: readonly (readonly SeriesRole[])[] = [
  ['measured', 'full', 'ideal', 'theory', 'quiet'],
  ['measured', 'fit'],
  ['first', 'second', 'third', 'fourth', 'quiet'],
];

describe.each([lightTheme, darkTheme])('$name theme', (theme) => {
  it('has text of at least 4.5 : 1 (WCAG 2.2, 1.4.3)', () => {
    for (const ink of [theme.ink, theme.quietInk]) expect(contrast(ink, theme.paper)).toBeGreaterThan(4.5);
  });

  it('has marks of at least 3 : 1 (WCAG 2.2, 1.4.11)', () => {
    for (const colour of Object.values(theme.colours))
      expect(contrast(colour, theme.paper)).toBeGreaterThan(3);
    for (const colour of [theme.stepUp, theme.stepDown]) {
      // Steps are outlined in ink: it is the outline that must be seen.
      expect(contrast(theme.ink, theme.paper)).toBeGreaterThan(3);
      expect(contrast(colour, theme.ink)).toBeGreaterThan(1.5);
    }
  });

  it('tells steps up from steps down by their grey', () => {
    expect(lightness(theme.stepUp) - lightness(theme.stepDown)).toBeGreaterThan(15);
  });

  it('keeps guides so faint that they are not taken for data', () => {
    expect(contrast(theme.guide, theme.paper)).toBeLessThan(1.6);
  });
});

it('tells series that share a plot apart without colour: by shape and by line', () => {
  for (const roles of together) {
    for (const [i, a] of roles.entries()) {
      for (const b of roles.slice(i + 1)) {
        expect(seriesStyles[a].shape, `${a} and ${b}`).not.toBe(seriesStyles[b].shape);
      }
    }
    const lines = roles.filter((role) => role !== 'measured' && role !== 'quiet');
    const dashes = lines.map((role) => seriesStyles[role].dash.join(' '));
    expect(new Set(dashes).size).toBe(lines.length);
  }
});

it('tells models apart for every form of colour blindness: the palette is that of Okabe and Ito', () => {
  const published = ['#e69f00', '#56b4e9', '#009e73', '#f0e442', '#0072b2', '#d55e00', '#cc79a7'];
  for (const theme of [lightTheme, darkTheme]) {
    for (const role of ['full', 'ideal', 'theory', 'fit', 'second', 'third', 'fourth'] as const) {
      expect(published).toContain(theme.colours[role]);
    }
  }
});
