import type { Definition, Root } from 'mdast';
import { fail, type Outcome, succeed } from '../../problem/index.ts';
import type { Level } from '../document/index.ts';
import { walkBlocks } from '../document/index.ts';
import { type AuthorsTexts, type Desk, foreignLanguage, type Section } from '../draft/index.ts';
import { type Bibliography, noSources } from './bibliography.ts';
import type { Converter } from './converter.ts';
import { pathInFolder } from './images.ts';
import { parseMarkdown } from './markdown.ts';
import { type Reading, tellUnknown } from './reading.ts';
import { draftReferences } from './references.ts';
import { putInText } from './sections.ts';

/** One text of an author: its path in the lab's folder and what stands in it. */
export interface TextFile {
  readonly file: string;
  readonly source: string;
  /** Where it is not that of the lab file. */
  readonly language?: string;
}

/** The texts of a lab, and what they draw on. */
export interface TextFiles {
  /** text/handout.md; null where there is none. */
  readonly handout: TextFile | null;
  /** text/guide.md; null where there is none. */
  readonly guide: TextFile | null;
  /** Bytes of every picture that `imagesIn` names and that is there, by its path in the lab's folder. */
  readonly images: ReadonlyMap<string, Uint8Array>;
  readonly bibliography?: Bibliography;
}

/**
 * The pictures that a text shows, as paths in the lab's folder; those outside it are not among them.
 *
 * It never fails: what is wrong with a text is told when it is put in.
 */
export function imagesIn({ file, source }: TextFile): readonly string[] {
  const root = parseMarkdown(source, file);
  if (!root.ok) return [];
  const paths = new Set<string>();
  const walk = (node: { readonly type: string; readonly children?: readonly unknown[] }): void => {
    if (node.type === 'image' && 'url' in node && typeof node.url === 'string') {
      const path = pathInFolder(node.url, file);
      if (path !== null) paths.add(path);
    }
    for (const child of node.children ?? []) if (isNode(child)) walk(child);
  };
  walk(root.value);
  return [...paths];
}

function isNode(value: unknown): value is { readonly type: string; readonly children?: readonly unknown[] } {
  return typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string';
}

/** What an author's texts make of drafts: see `putInText`. Nothing of a text is run, and no file is read here. */
export function createTexts(files: TextFiles): AuthorsTexts {
  const bibliography = files.bibliography ?? noSources;
  const put = (
    text: TextFile | null,
    desk: Desk,
    level: Level | null,
    drafted: readonly Section[],
  ): Outcome<readonly Section[]> => {
    if (text === null) return succeed(drafted);
    const root = parseMarkdown(text.source, text.file);
    if (!root.ok) return root;
    const reading: Reading = { ...text, problems: [] };
    const converter: Converter = {
      desk,
      level,
      reading,
      foreign: foreignText(text, desk),
      bibliography,
      images: files.images,
      definitions: definitionsIn(root.value),
      anchors: [],
    };
    const sections = putInText(root.value, drafted, converter);
    checkAnchors(converter, sections);
    return reading.problems.length > 0 ? fail(...inOrder(reading)) : succeed(sections);
  };
  return {
    handout: (desk, level, drafted) => put(files.handout, desk, level, drafted),
    guide: (desk, drafted) => put(files.guide, desk, null, drafted),
    references: (desk, kind, sections) => draftReferences(desk, kind, sections, bibliography),
  };
}

function foreignText({ language }: TextFile, { gathered, settings }: Desk): string | null {
  const extras = { ...gathered.extras, language: language ?? gathered.extras.language };
  return foreignLanguage({ ...gathered, extras }, settings);
}

function definitionsIn(root: Root): ReadonlyMap<string, Definition> {
  return new Map(
    root.children.flatMap((node) => (node.type === 'definition' ? [[node.identifier, node] as const] : [])),
  );
}

/** Links to headings that are not there. */
function checkAnchors({ anchors, reading }: Converter, sections: readonly Section[]): void {
  const known = new Set(
    sections.flatMap((section) => [
      section.id,
      ...[...walkBlocks(section.blocks)].flatMap((block) => (block.kind === 'heading' ? [block.id] : [])),
    ]),
  );
  for (const { id, node } of anchors) {
    if (known.has(id)) continue;
    tellUnknown(reading, node, 'broken-reference', `No heading is named "#${id}".`, id, [...known]);
  }
}

function inOrder({ problems }: Reading) {
  return [...problems].sort(
    (a, b) => (a.place.line ?? 0) - (b.place.line ?? 0) || (a.place.column ?? 0) - (b.place.column ?? 0),
  );
}
