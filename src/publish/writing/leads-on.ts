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

/** Whether a block is a few words that lead to the next one, and so must not be parted from it by a page's end. */
export function leadsOn(block: Block, next: Block | undefined, settings: PrintSettings): boolean {
  return (
    block.kind === 'paragraph' &&
    next !== undefined &&
    FOLLOWERS.has(next.kind) &&
    plainLine(block.inlines, settings).length <= LONGEST_LEAD
  );
}
