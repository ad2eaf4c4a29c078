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
  made: {
    readonly settings: PrintSettings;
    readonly provenance: Provenance;
    readonly titleLanguage: string | null;
  },
): LabDocumentTree {
  const blocks = withOwnIds(sections.flatMap((part) => withHeading(desk, part)));
  return {
    kind,
    level,
    title: desk.lab.title,
    ...(made.titleLanguage === null ? {} : { titleLanguage: made.titleLanguage }),
    subtitle: subtitleOf(desk, kind, level),
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

function withHeading({ phrases }: Desk, part: Section): readonly Block[] {
  const heading: Block = { kind: 'heading', level: 1, inlines: headingOf(part, phrases), id: part.id };
  return [heading, ...part.pinned, ...part.blocks];
}

/** Each heading under a name of its own: the second 'runs' is 'runs-2'. */
function withOwnIds(blocks: readonly Block[]): readonly Block[] {
  const taken = new Set<string>();
  return blocks.map((block) => {
    if (block.kind !== 'heading') return block;
    let id = block.id;
    for (let count = 2; taken.has(id); count++) id = `${block.id}-${count}`;
    taken.add(id);
    return { ...block, id };
  });
}
