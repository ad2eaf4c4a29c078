/** How large a figure is, in points (1/72 inch); on a screen a point is taken as a CSS pixel. */
export interface Size {
  readonly widthPt: number;
  /** A figure of many rows, or one with a long legend in a small size, may be taller. */
  readonly heightPt: number;
  readonly fontPt: number;
  /** A thumbnail shows its marks alone: text of its size could not be read. */
  readonly shows: 'everything' | 'marks';
}

/** The sizes in which figures are used; any other can be given. */
export const sizes = {
  /** Text width of an A4 page with margins of 25 mm: 160 mm. */
  column: { widthPt: 454, heightPt: 300, fontPt: 9, shows: 'everything' },
  /** Two beside each other on an A4 page. */
  half: { widthPt: 221, heightPt: 200, fontPt: 8, shows: 'everything' },
  /** The free part of a slide of 16:9, 960 points wide. */
  slide: { widthPt: 840, heightPt: 430, fontPt: 18, shows: 'everything' },
  screen: { widthPt: 720, heightPt: 460, fontPt: 13, shows: 'everything' },
  thumbnail: { widthPt: 160, heightPt: 104, fontPt: 5.5, shows: 'marks' },
} as const satisfies Readonly<Record<string, Size>>;
