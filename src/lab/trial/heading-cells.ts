import { filledWidth, type Row } from './shape.ts';
import type { Delimiter } from './trial-table.ts';

const commentMark = /^\s*(?:#+|%+|\/\/+|!)\s*/;

/** Whether a line is a comment by its first characters. */
export function isComment(text: string): boolean {
  return commentMark.test(text);
}

/**
 * The headings in a line of words: without the comment mark before them and the blank cells behind them.
 *
 * Between blanks a heading of two words would fall apart. So with 'space' a unit in brackets is put back to
 * the word before it, if one blank (or, failing that, any) lies between; or gaps of two blanks or a tab
 * separate; or a word with a colon at the beginning of the line is left out: the first of these ways that gives
 * `width` headings.
 */
export function headingCells(row: Row, delimiter: Delimiter | null, width: number): string[] {
  if (delimiter === 'space') return placedWords(row.text, width).map((word) => word.text);
  const cells = row.texts.slice(0, filledWidth(row));
  const first = cells[0]?.replace(commentMark, '');
  return first === undefined ? cells : [first, ...cells.slice(1)];
}

/** A heading and the place of its middle in the line, in characters. */
export interface PlacedWord {
  readonly text: string;
  readonly middle: number;
}

/** The headings of a line whose cells are parted by blanks, with their places. */
export function placedWords(line: string, width: number): PlacedWord[] {
  const bare = line.replace(commentMark, (mark) => ' '.repeat(mark.length));
  const ways = [
    joinBrackets(bare, 1),
    joinBrackets(bare, Number.POSITIVE_INFINITY),
    wordsOf(bare, /\S+(?: \S+)*/g),
    // 'Data:   y   x': the word before the colon names the table.
    joinBrackets(
      bare.replace(/^\s*\p{L}+\s*:\s/u, (label) => ' '.repeat(label.length)),
      1,
    ),
  ];
  const fitting = ways.find((words) => words.length === width) ?? ways[0] ?? [];
  return fitting.map(({ text, start }) => ({ text, middle: start + text.length / 2 }));
}

interface Word {
  readonly text: string;
  readonly start: number;
}

function wordsOf(line: string, pattern: RegExp): Word[] {
  return Array.from(line.matchAll(pattern), (match) => ({ text: match[0].trim(), start: match.index }));
}

function joinBrackets(line: string, widestGap: number): Word[] {
  const joined: Word[] = [];
  for (const word of wordsOf(line, /\S+/g)) {
    const last = joined.at(-1);
    const gap = last === undefined ? 0 : word.start - last.start - last.text.length;
    const continues =
      last !== undefined &&
      (isOpenBracket(last.text) || (/^[([]/.test(word.text) && !/[)\]]$/.test(last.text)));
    if (last === undefined || !continues || gap > widestGap) joined.push(word);
    else joined[joined.length - 1] = { text: `${last.text} ${word.text}`, start: last.start };
  }
  return joined;
}

function isOpenBracket(text: string): boolean {
  return countOf(text, '(') > countOf(text, ')') || countOf(text, '[') > countOf(text, ']');
}

function countOf(text: string, character: string): number {
  return text.split(character).length - 1;
}
