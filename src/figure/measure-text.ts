import { notoSansAdvances } from './noto-sans-advances.ts';
import type { RichText, Run } from './rich-text.ts';

/** Size of raised and lowered characters against the text they belong to. */
export const smallScale = 0.72;

/** Characters that the table does not know are taken as wide as the font is tall: wider than nearly all of them. */
const unknownAdvance = 1000;

/**
 * Width of a text, in the unit of `size`, if it is set in the font of the figures (see `fontStack`).
 *
 * The fonts that stand in for it where it is missing are narrower, so that a layout that fits stays fitting.
 */
export function measureText(text: RichText, size: number): number {
  let width = 0;
  for (const run of text) width += measureRun(run) * size * (run.level === 'base' ? 1 : smallScale);
  return width / 1000;
}

function measureRun(run: Run): number {
  let sum = 0;
  for (const character of run.text) sum += advanceOf(character.codePointAt(0) ?? 0, run.style);
  return sum;
}

function advanceOf(codePoint: number, style: Run['style']): number {
  for (const range of notoSansAdvances) {
    const index = codePoint - range.from;
    if (index < 0 || index >= range.upright.length) continue;
    const advance = range[style][index];
    return advance === 0 ? unknownAdvance : advance;
  }
  return unknownAdvance;
}

/**
 * The text cut to a width, with an ellipsis where something was cut off.
 *
 * @param width in the unit of `size`
 */
export function cutText(text: RichText, width: number, size: number): RichText {
  if (measureText(text, size) <= width) return text;
  const ellipsis: Run = { text: '…', style: 'upright', level: 'base' };
  const room = width - measureText([ellipsis], size);
  const kept: Run[] = [];
  let taken = 0;
  for (const run of text) {
    let part = '';
    for (const character of run.text) {
      taken += measureText([{ ...run, text: character }], size);
      if (taken > room)
        return [...kept, { ...run, text: part.trimEnd() }, ellipsis].filter(({ text: cut }) => cut !== '');
      part += character;
    }
    kept.push(run);
  }
  return text;
}

/**
 * The text in lines of at most `width`, broken at spaces; the last line is cut where more than `most` are needed.
 */
export function breakText(text: RichText, width: number, size: number, most: number): readonly RichText[] {
  const lines: Run[][] = [[]];
  for (const word of splitWords(text)) {
    const line = lines.at(-1) ?? [];
    const tooLong = measureText([...line, ...word], size) > width;
    if (tooLong && line.length > 0 && lines.length < most) lines.push(withoutLeadingSpace(word));
    else line.push(...word);
  }
  return lines.map((line) => cutText(line, width, size));
}

/** Words, each with the space before it; a word may be of several runs. */
export function splitWords(text: RichText): readonly Run[][] {
  const words: Run[][] = [];
  for (const run of text) {
    for (const part of run.text.split(/(?= )/u)) {
      const last = words.at(-1);
      if (last === undefined || part.startsWith(' ')) words.push([{ ...run, text: part }]);
      else last.push({ ...run, text: part });
    }
  }
  return words;
}

function withoutLeadingSpace([first, ...rest]: readonly Run[]): Run[] {
  return first === undefined ? [] : [{ ...first, text: first.text.trimStart() }, ...rest];
}
