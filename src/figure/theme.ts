import type { SeriesRole } from './figure.ts';

/** Colours of a figure, as #rrggbb. */
export interface Theme {
  readonly name: 'light' | 'dark';
  readonly paper: string;
  /** Text that must be read, axes. */
  readonly ink: string;
  /** Text that helps, ticks. */
  readonly quietInk: string;
  /** Lines that only guide the eye; nothing depends on them. */
  readonly guide: string;
  readonly colours: Readonly<Record<SeriesRole, string>>;
  /** Fills of a waterfall's steps, lighter for up than for down, and of a histogram. */
  readonly stepUp: string;
  readonly stepDown: string;
  readonly bar: string;
  /** Opacity of an uncertainty band. */
  readonly bandOpacity: number;
}

/**
 * The first family is the figures' own and is embedded in documents; the others are narrower, so that texts fit
 * wherever it is missing. Noto Sans has no mathematical signs: those come from its companion.
 */
export const fontStack: readonly string[] = [
  'Noto Sans',
  'Noto Sans Math',
  'Liberation Sans',
  'Arial',
  'Helvetica',
  'sans-serif',
];

/**
 * The palette that stays told apart with every form of colour blindness; on each paper those of its colours with a
 * contrast of at least 3:1.
 *
 * Source: M. Okabe, K. Ito, Color Universal Design: how to make figures and presentations that are friendly to
 * colorblind people (2002, revised 2008), University of Tokyo
 */
const palette = {
  orange: '#e69f00',
  skyBlue: '#56b4e9',
  bluishGreen: '#009e73',
  yellow: '#f0e442',
  blue: '#0072b2',
  vermillion: '#d55e00',
  reddishPurple: '#cc79a7',
} as const;

export const lightTheme: Theme = {
  name: 'light',
  paper: '#ffffff',
  ink: '#1b1e23',
  quietInk: '#555a61',
  guide: '#dfe2e6',
  colours: {
    measured: '#1b1e23',
    fit: palette.vermillion,
    full: palette.blue,
    ideal: palette.reddishPurple,
    theory: palette.bluishGreen,
    first: '#1b1e23',
    second: palette.blue,
    third: palette.vermillion,
    fourth: palette.bluishGreen,
    quiet: '#555a61',
  },
  stepUp: palette.skyBlue,
  stepDown: palette.vermillion,
  bar: '#cfd4da',
  bandOpacity: 0.22,
};

export const darkTheme: Theme = {
  name: 'dark',
  paper: '#14171c',
  ink: '#ece9e2',
  quietInk: '#b0b5bc',
  guide: '#2d323a',
  colours: {
    measured: '#ece9e2',
    fit: palette.orange,
    full: palette.skyBlue,
    ideal: palette.reddishPurple,
    theory: palette.yellow,
    first: '#ece9e2',
    second: palette.skyBlue,
    third: palette.orange,
    fourth: palette.bluishGreen,
    quiet: '#b0b5bc',
  },
  stepUp: palette.skyBlue,
  stepDown: palette.vermillion,
  bar: '#454c57',
  bandOpacity: 0.3,
};
