import { type Block, type Inline, type Inlines, joinInlines } from '../document/index.ts';
import type { Phrases } from '../language/index.ts';

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
  | 'models'
  | 'sample'
  | 'steps'
  | 'slips'
  | 'answers'
  | 'troubleshooting'
  | 'instruments'
  | 'quantities'
  | 'group'
  | 'runs';

/** A part of a document under one heading. */
export interface Section {
  /** One of `SectionId`, or the name that an author gave to a section of their own. */
  readonly id: string;
  readonly blocks: readonly Block[];
  /** Over the section where an author names it; the language's own heading where null. */
  readonly title: readonly Inline[] | null;
  /** Stands first in the section whatever an author writes: cautions. */
  readonly pinned: readonly Block[];
}

export function section(id: SectionId, ...blocks: readonly Block[]): Section {
  return { id, title: null, blocks, pinned: [] };
}

/** What stands over a section. */
export function headingOf({ id, title }: Section, phrases: Phrases): Inlines {
  const headings: Readonly<Record<string, string>> = phrases.documents.headings;
  return title ?? joinInlines(headings[id] ?? id);
}
