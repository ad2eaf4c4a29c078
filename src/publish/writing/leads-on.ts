import { type Block, type PrintSettings, plainLine } from '../document/index.ts';

/** Longer paragraphs say enough to stand alone at the foot of a page. */
const LONGEST_LEAD = 260;

/** A table has its caption; a paragraph longer than this tells something of its own. */
const LONGEST_POINTER = 130;

const FOLLOWERS: ReadonlySet<Block['kind']> = new Set(['equation', 'display tex', 'list', 'question']);

/** A figure or picture says what it is by itself; only words that point to it stay with it. */
const POINTED_AT: ReadonlySet<Block['kind']> = new Set(['figure', 'image']);

/**
 * Whether a block is a few words that lead to the next one, and so must not be parted from it by a page's end: words
 * before a table or a list, those that point to a figure, and those between a heading and the heading below it.
 */
export function leadsOn(blocks: readonly Block[], index: number, settings: PrintSettings): boolean {
  const [before, block, next] = [blocks[index - 1], blocks[index], blocks[index + 1]];
  if (block?.kind !== 'paragraph' || next === undefined) return false;
  const line = plainLine(block.inlines, settings);
  if (line.length > LONGEST_LEAD) return false;
  if (next.kind === 'heading') return before?.kind === 'heading';
  if (POINTED_AT.has(next.kind)) return before?.kind === 'heading' || line.endsWith(':');
  if (next.kind === 'table') return line.endsWith(':') || line.length <= LONGEST_POINTER;
  return FOLLOWERS.has(next.kind);
}
