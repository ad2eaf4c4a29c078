import {
  type Block,
  type DocumentKind,
  forStudents,
  type LabDocumentTree,
  type Level,
  type PrintSettings,
  type Provenance,
} from '../document/index.ts';
import type { Desk } from './desk.ts';
import { headingOf, type Section } from './section.ts';

/** Documents that students get: nothing in them may tell an answer. */
const FOR_STUDENTS: ReadonlySet<DocumentKind> = new Set([
  'handout',
  'data sheet',
  'set-up sheet',
  'equipment list',
]);

/** A document with its sections one after another, each under its heading, what is pinned first. */
export function assemble(
  desk: Desk,
  kind: DocumentKind,
  level: Level | null,
  sections: readonly Section[],
  made: { readonly settings: PrintSettings; readonly provenance: Provenance; readonly subtitle?: string },
): LabDocumentTree {
  const taken = new Map<string, number>();
  const blocks = sections.flatMap((part) => {
    const count = (taken.get(part.id) ?? 0) + 1;
    taken.set(part.id, count);
    return withHeading(desk, part, count === 1 ? part.id : `${part.id}-${count}`);
  });
  return {
    kind,
    level,
    title: desk.lab.title,
    subtitle: made.subtitle ?? subtitleOf(desk, kind, level),
    settings: made.settings,
    licence: desk.gathered.extras.licence,
    provenance: made.provenance,
    blocks: FOR_STUDENTS.has(kind) ? forStudents(blocks) : blocks,
  };
}

function subtitleOf({ phrases }: Desk, kind: DocumentKind, level: Level | null): string {
  const { kinds, levels } = phrases.documents;
  return level === null ? kinds[kind] : `${kinds[kind]}, ${levels[level]}`;
}

function withHeading({ phrases }: Desk, part: Section, id: string): readonly Block[] {
  const heading: Block = { kind: 'heading', level: 1, inlines: headingOf(part, phrases), id };
  return [heading, ...part.pinned, ...part.blocks];
}
