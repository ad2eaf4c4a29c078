import type { Block, Inline } from './tree.ts';

/** Every block, those inside lists, answers, notes and slides among them, outer ones first. */
export function* walkBlocks(blocks: readonly Block[]): Generator<Block> {
  for (const block of blocks) {
    yield block;
    for (const inner of blocksWithin(block)) yield* walkBlocks(inner);
  }
}

function blocksWithin(block: Block): readonly (readonly Block[])[] {
  switch (block.kind) {
    case 'list':
      return block.items;
    case 'question':
      return [block.answer];
    case 'teacher note':
      return [block.blocks];
    case 'slide':
      return [block.blocks, block.notes];
    default:
      return [];
  }
}

/** Every inline of the blocks, those within others among them. */
export function* walkInlines(blocks: readonly Block[]): Generator<Inline> {
  for (const block of walkBlocks(blocks)) for (const line of linesOf(block)) yield* withInner(line);
}

function* withInner(inlines: readonly Inline[]): Generator<Inline> {
  for (const inline of inlines) {
    yield inline;
    if ('inlines' in inline) yield* withInner(inline.inlines);
  }
}

/** The lines of a block itself, without those of blocks inside it. */
export function linesOf(block: Block): readonly (readonly Inline[])[] {
  switch (block.kind) {
    case 'heading':
    case 'paragraph':
    case 'question':
      return [block.inlines];
    case 'table':
      return [block.caption, ...block.head, ...block.rows.flat()];
    case 'equation':
      return [block.note];
    case 'figure':
    case 'image':
      return [block.caption];
    case 'caution':
      return [...block.items, block.closing];
    case 'references':
      return block.entries.map(({ inlines }) => inlines);
    case 'slide':
      return [block.title];
    default:
      return [];
  }
}

/**
 * The blocks as students get them: no answers, no teacher notes, at any depth.
 *
 * The writers get trees that never held what students must not see.
 */
export function forStudents(blocks: readonly Block[]): readonly Block[] {
  return blocks.flatMap((block): Block[] => {
    switch (block.kind) {
      case 'teacher note':
        return [];
      case 'question':
        return [{ ...block, answer: [] }];
      case 'list':
        return [{ ...block, items: block.items.map(forStudents) }];
      case 'slide':
        return [{ ...block, blocks: forStudents(block.blocks), notes: forStudents(block.notes) }];
      default:
        return [block];
    }
  });
}
