/** The signs that lines, bars and marks are drawn with. */
export interface Glyphs {
  readonly rule: string;
  readonly right: string;
  readonly left: string;
  readonly shaft: string;
  readonly brokenShaft: string;
  readonly nothing: string;
  readonly point: string;
  readonly whisker: string;
  readonly whiskerLeft: string;
  readonly whiskerRight: string;
  readonly caret: string;
  readonly margin: string;
  readonly tick: string;
  readonly cross: string;
  readonly bullet: string;
}

export const unicodeGlyphs: Glyphs = {
  rule: '─',
  right: '►',
  left: '◄',
  shaft: '━',
  brokenShaft: '╍',
  nothing: '│',
  point: '●',
  whisker: '─',
  whiskerLeft: '├',
  whiskerRight: '┤',
  caret: '▲',
  margin: '│',
  tick: '✓',
  cross: '✗',
  bullet: '•',
};

export const asciiGlyphs: Glyphs = {
  rule: '-',
  right: '>',
  left: '<',
  shaft: '=',
  brokenShaft: '~',
  nothing: '|',
  point: 'o',
  whisker: '-',
  whiskerLeft: '|',
  whiskerRight: '|',
  caret: '^',
  margin: '|',
  tick: 'ok',
  cross: 'NO',
  bullet: '-',
};
