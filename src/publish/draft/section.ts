import type { Block } from '../document/index.ts';

/** Sections of all documents; a text of the author names the one that it is about. */
export type SectionId =
  | 'aim'
  | 'background'
  | 'predict'
  | 'set-up'
  | 'procedure'
  | 'data'
  | 'analysis'
  | 'comparison'
  | 'questions'
  | 'extension'
  | 'references'
  | 'overview'
  | 'timing'
  | 'results'
  | 'kits'
  | 'stations'
  | 'gap'
  | 'sample'
  | 'steps'
  | 'slips'
  | 'answers'
  | 'troubleshooting'
  | 'instruments'
  | 'quantities'
  | 'group'
  | 'runs'
  | 'remarks';

/** A part of a document under one heading. */
export interface Section {
  readonly id: SectionId;
  readonly blocks: readonly Block[];
  /** Stands first in the section whatever an author writes: cautions. */
  readonly pinned: readonly Block[];
}

export function section(id: SectionId, ...blocks: readonly Block[]): Section {
  return { id, blocks, pinned: [] };
}
