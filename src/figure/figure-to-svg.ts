import type { Figure } from './figure.ts';
import { layOut } from './lay-out.ts';
import type { Appearance } from './layout/appearance.ts';
import { sizes } from './size.ts';
import { lightTheme } from './theme.ts';
import { type SvgOptions, toSvg } from './to-svg.ts';

/**
 * A figure as an SVG document; in the size of a column on light paper where nothing else is asked for.
 *
 * The same figure and appearance give the same bytes in Node and in a browser.
 */
export function figureToSvg(figure: Figure, options: Partial<Appearance> & SvgOptions = {}): string {
  const { theme = lightTheme, size = sizes.column } = options;
  return toSvg(layOut(figure, { theme, size }), options);
}
