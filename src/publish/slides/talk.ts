import type { Block, Inline, LabDocumentTree } from '../document/index.ts';

type SlideBlock = Block & { readonly kind: 'slide' };

/** A slide with its place in the talk. */
export interface TimedSlide {
  readonly title: readonly Inline[];
  readonly blocks: readonly Block[];
  readonly notes: readonly Block[];
  readonly number: number;
  readonly seconds: number;
  /** Seconds from the start of the talk to the end of this slide. */
  readonly until: number;
}

/** The slides of a tree in order; what stands outside of slides has no place in a talk. */
export function slidesOf(tree: LabDocumentTree): readonly TimedSlide[] {
  let until = 0;
  return tree.blocks
    .filter((block): block is SlideBlock => block.kind === 'slide')
    .map(({ title, blocks, notes, seconds }, index) => {
      until += seconds;
      return { title, blocks, notes, seconds, until, number: index + 1 };
    });
}

/** 2:30 for 150 seconds. */
export function minutes(seconds: number): string {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
