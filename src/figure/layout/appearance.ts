import type { Size } from '../size.ts';
import type { Theme } from '../theme.ts';

/** How a figure looks: everything that its description leaves open. */
export interface Appearance {
  readonly theme: Theme;
  readonly size: Size;
}
