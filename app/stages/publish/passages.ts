import { directiveFromMarkdown } from 'mdast-util-directive';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { directive } from 'micromark-extension-directive';
import { LANGUAGES, phrasesOf } from '../../../src/publish/language/index.ts';

/** A section that an author wrote: the stretch of the text from its heading to the next. */
export interface Passage {
  /** The drafted section that it stands for, or the heading's own words. */
  readonly id: string;
  readonly heading: string;
  readonly start: number;
  /** Where what stands under the heading begins. */
  readonly bodyStart: number;
  readonly end: number;
  readonly body: string;
  /** Whether what was drafted stands in it. */
  readonly hasDraft: boolean;
}

/** Sections of the handout and of the guide that a text may take the place of, in the order of the documents. */
export const SECTIONS = {
  handout: [
    'aim',
    'background',
    'predict',
    'set-up',
    'procedure',
    'data',
    'analysis',
    'comparison',
    'questions',
    'extension',
  ],
  guide: [
    'overview',
    'timing',
    'set-up',
    'results',
    'stations',
    'kits',
    'gap',
    'sample',
    'slips',
    'steps',
    'answers',
    'troubleshooting',
  ],
} as const;

export type TextName = keyof typeof SECTIONS;

/** What stands over a section in a language. */
export function headingOfSection(id: string, language: 'en' | 'de'): string {
  const headings: Readonly<Record<string, string>> = phrasesOf(language).documents.headings;
  return headings[id] ?? id;
}

/** The passages of an author's text, in their order. Headings of the first and second rank begin one. */
export function passagesIn(text: string, name: TextName): readonly Passage[] {
  const root = fromMarkdown(text, { extensions: [directive()], mdastExtensions: [directiveFromMarkdown()] });
  const headings = root.children.flatMap((node) => {
    const { position } = node;
    if (node.type !== 'heading' || node.depth > 2 || position === undefined) return [];
    return [{ start: position.start.offset ?? 0, end: position.end.offset ?? 0 }];
  });
  return headings.map(({ start, end }, index): Passage => {
    const next = headings[index + 1]?.start ?? text.length;
    const body = text.slice(end, next);
    const { heading, id } = readHeading(text.slice(start, end), name);
    return {
      id,
      heading,
      start,
      bodyStart: end,
      end: next,
      body: body.trim(),
      hasDraft: /^\s*::draft\b/m.test(body),
    };
  });
}

/** The text with another body under a passage's heading. */
export function writePassage(text: string, { bodyStart, end }: Passage, body: string): string {
  const rest = text.slice(end);
  return `${text.slice(0, bodyStart)}\n\n${body.trim()}\n${rest === '' ? '' : `\n${rest}`}`;
}

/** The text without a passage: the section is drafted again. */
export function removePassage(text: string, { start, end }: Passage): string {
  return text.slice(0, start) + text.slice(end);
}

/** The text with a new passage for a drafted section, behind those of the sections before it. */
export function addPassage(text: string, name: TextName, id: string, heading: string): string {
  const order: readonly string[] = SECTIONS[name];
  const before = order.slice(0, order.indexOf(id));
  const last = passagesIn(text, name).findLast((passage) => before.includes(passage.id));
  const at = last?.end ?? firstHeading(text, name);
  const head = text.slice(0, at).trimEnd();
  const rest = text.slice(at);
  const passage = `## ${heading} {#${id}}\n\n::draft\n`;
  return `${head === '' ? '' : `${head}\n\n`}${passage}${rest === '' ? '' : `\n${rest}`}`;
}

function firstHeading(text: string, name: TextName): number {
  return passagesIn(text, name)[0]?.start ?? text.length;
}

/** '## A few words {#set-up}': the words, and the section that they name, by its name or its heading in any language. */
function readHeading(line: string, name: TextName): { readonly heading: string; readonly id: string } {
  const words = line.replace(/^#{1,2}\s*/, '').replace(/\n[=-]+\s*$/, '');
  const given = /^(.*?)\s*\{#([\p{L}\p{N}-]+)\}\s*$/su.exec(words);
  const heading = (given?.[1] ?? words).trim();
  const slug = given?.[2] ?? slugOf(heading);
  const order: readonly string[] = SECTIONS[name];
  const known = order.find(
    (id) => id === slug || LANGUAGES.some((language) => slugOf(headingOfSection(id, language)) === slug),
  );
  return { heading, id: known ?? slug };
}

function slugOf(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/gu, '');
}
