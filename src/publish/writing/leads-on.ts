import { type Block, type PrintSettings, plainLine } from '../document/index.ts';

/** Longer paragraphs say enough to stand alone at the foot of a page. */
const LONGEST_LEAD = 260;

const FOLLOWERS: ReadonlySet<Block['kind']> = new Set([
  'table',
  'figure',
  'image',
  'equation',
  'display tex',
  'list',
  'question',
]);

/**
 * Whether a block is a few words that lead to the next one, and so must not be parted from it by a page's end: words
 * before a table or a list, and those between a heading and the heading below it.
 */
export function leadsOn(blocks: readonly Block[], index: number, settings: PrintSettings): boolean {
  const [before, block, next] = [blocks[index - 1], blocks[index], blocks[index + 1]];
  if (block?.kind !== 'paragraph' || next === undefined) return false;
  const leads = next.kind === 'heading' ? before?.kind === 'heading' : FOLLOWERS.has(next.kind);
  return leads && plainLine(block.inlines, settings).length <= LONGEST_LEAD;
}
