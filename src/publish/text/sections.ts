import type { Heading, Root, RootContent } from 'mdast';
import { type Block, type Inlines, inLanguage, joinInlines, plainLine } from '../document/index.ts';
import { type Desk, headingOf, type Section } from '../draft/index.ts';
import { LANGUAGES, phrasesOf } from '../language/index.ts';
import { blocksOf, DRAFT, slugOf } from './blocks.ts';
import type { Converter } from './converter.ts';
import { inlinesOf } from './inlines.ts';
import { type Reading, tell } from './reading.ts';

/** A section as an author wrote it: its heading, and what stands under it. */
interface WrittenSection {
  readonly heading: Heading;
  readonly nodes: readonly RootContent[];
}

/**
 * A drafted document with an author's text put in.
 *
 * A section whose heading is that of a drafted one, or bears its name as {#name}, takes its place; `::draft` inside it
 * stands for what was drafted, so that a text can add without repeating. A heading of its own makes a new section,
 * behind the one that it follows in the text. What the text does not name stays as drafted. Cautions stay in any case.
 *
 * @param drafted the sections of the draft, in order
 * @returns the sections in order; faults are in `converter.reading.problems`
 */
export function putInText(root: Root, drafted: readonly Section[], converter: Converter): readonly Section[] {
  const { reading, desk } = converter;
  const sections: Section[] = [...drafted];
  let last = -1;
  const seen = new Set<string>();
  for (const written of cutIntoSections(root, reading)) {
    const { title, name } = readHeading(written.heading, converter);
    const at = sections.findIndex((section) => namesOf(section, desk).has(name));
    const id = sections[at]?.id ?? name;
    if (seen.has(id)) {
      tell(
        reading,
        written.heading,
        'section-twice',
        `The section "${id}" stands here a second time.`,
        'Join the two.',
      );
      continue;
    }
    seen.add(id);
    const blocks = blocksOf(written.nodes, converter);
    const old = sections[at];
    if (old === undefined) {
      last += 1;
      sections.splice(last, 0, gatherCautions({ id, title, pinned: [], blocks: withoutDraft(blocks) }));
      continue;
    }
    last = at;
    if (written.nodes.length === 0) continue;
    sections[at] = gatherCautions({
      id: old.id,
      title: old.title,
      pinned: old.pinned,
      blocks: blocks.flatMap((block) => (block === DRAFT ? old.blocks : [block])),
    });
  }
  return sections;
}

/** What a text may call a section: its name, and its heading in every language. */
function namesOf(section: Section, { phrases, settings }: Desk): ReadonlySet<string> {
  const headings = [phrases, ...LANGUAGES.map(phrasesOf)].map((one) => headingOf(section, one));
  return new Set([section.id, ...headings.map((heading) => slugOf(plainLine(heading, settings)))]);
}

function withoutDraft(blocks: readonly Block[]): readonly Block[] {
  return blocks.filter((block) => block !== DRAFT);
}

/** Headings of the first and second rank begin sections; deeper ones stand inside them. */
function cutIntoSections(root: Root, reading: Reading): readonly WrittenSection[] {
  const sections: { heading: Heading; nodes: RootContent[] }[] = [];
  let isTold = false;
  for (const node of root.children) {
    if (node.type === 'heading' && node.depth <= 2) sections.push({ heading: node, nodes: [] });
    else if (sections.length > 0) sections.at(-1)?.nodes.push(node);
    else if (node.type !== 'definition' && !isComment(node) && !isTold) {
      isTold = true;
      const message = 'This stands before the first heading, so it belongs to no section.';
      tell(reading, node, 'text-before-heading', message, 'Put a heading over it, such as ## Aim.');
    }
  }
  return sections;
}

function isComment(node: RootContent): boolean {
  return node.type === 'html' && /^<!--[\s\S]*-->$/u.test(node.value.trim());
}

/** '## A few words {#set-up}': the words, and the name, which is made from the words where none is given. */
function readHeading(
  node: Heading,
  converter: Converter,
): { readonly title: Inlines; readonly name: string } {
  const written = inlinesOf(node.children, converter);
  const [only] = written;
  const inlines = only?.kind === 'language' ? only.inlines : written;
  const end = inlines.at(-1);
  const given = end?.kind === 'text' ? /^(.*?)\s*\{#([\p{L}\p{N}-]+)\}\s*$/su.exec(end.text) : null;
  const title = given === null ? inlines : joinInlines(...inlines.slice(0, -1), given[1] ?? '');
  const { foreign } = converter;
  const told = foreign === null ? title : inLanguage(foreign, title);
  return { title: told, name: given?.[2] ?? slugOf(plainLine(title, converter.desk.settings)) };
}

/** An author's cautions join those that stand first; where there are none, they come first themselves. */
function gatherCautions(section: Section): Section {
  const own = section.blocks.flatMap((block) => (block.kind === 'caution' ? [block] : []));
  if (own.length === 0) return section;
  const [first] = own;
  const items = own.flatMap((block) => block.items);
  const rest = section.blocks.filter((block) => block.kind !== 'caution');
  const hasPinned = section.pinned.some((block) => block.kind === 'caution');
  const pinned = hasPinned
    ? section.pinned.map((block) =>
        block.kind === 'caution' ? { ...block, items: [...block.items, ...items] } : block,
      )
    : [{ kind: 'caution' as const, items, closing: first?.closing ?? [] }, ...section.pinned];
  return { ...section, pinned, blocks: rest };
}
