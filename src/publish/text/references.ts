import {
  type Block,
  type DocumentKind,
  emphasis,
  type Inlines,
  joinInlines,
  listInlines,
  type Part,
  walkInlines,
} from '../document/index.ts';
import type { Desk, Section } from '../draft/index.ts';
import type { Phrases } from '../language/index.ts';
import type { Bibliography, Source } from './bibliography.ts';

/**
 * The list of sources of a document: those that it cites, in the order in which it cites them; in the teacher guide
 * the others too, and those that the lab file lists in words.
 *
 * @returns no section where there is nothing to list
 */
export function draftReferences(
  desk: Desk,
  kind: DocumentKind,
  sections: readonly Section[],
  { entries }: Bibliography,
): readonly Section[] {
  const blocks = sections.flatMap((section) => [...section.pinned, ...section.blocks]);
  const cited = [...walkInlines(blocks)].flatMap((inline) => (inline.kind === 'citation' ? inline.keys : []));
  const isGuide = kind === 'teacher guide';
  const keys = [...new Set([...cited, ...(isGuide ? entries.keys() : [])])];
  const listed = keys.flatMap((key) => {
    const source = entries.get(key);
    return source === undefined ? [] : [{ key, inlines: formatSource(source, desk.phrases) }];
  });
  const inWords = isGuide
    ? desk.gathered.extras.references.map((words, index) => ({
        key: `lab-${index + 1}`,
        inlines: joinInlines(words),
      }))
    : [];
  if (listed.length + inWords.length === 0) return [];
  const block: Block = { kind: 'references', entries: [...listed, ...inWords] };
  return [{ id: 'references', title: null, pinned: [], blocks: [block] }];
}

/**
 * One source as a line: who, title, where, when.
 *
 * Source of the order: ISO 690:2021, 5 (creator, title, medium and edition, production, date, numeration, identifier)
 */
export function formatSource(source: Source, phrases: Phrases): Inlines {
  const { sources } = phrases;
  const people = nameList(source.author, phrases);
  const editors = nameList(source.editor, phrases);
  const who = people.length > 0 ? people : editors.length > 0 ? `${editors} ${sources.editors}` : '';
  const container = source['container-title'];
  const year = source.issued?.['date-parts']?.[0]?.[0];
  const isPart = container !== undefined;
  const title = source.title ?? '';
  const volume =
    source.volume === undefined
      ? ''
      : source.issue === undefined
        ? source.volume
        : `${source.volume}(${source.issue})`;
  const parts: Part[] = [
    who,
    title === '' ? '' : isPart ? joinInlines(title) : emphasis(title),
    isPart ? emphasis(container) : '',
    source.edition === undefined ? '' : sources.edition(source.edition),
    source.publisher ?? '',
    source.number ?? '',
    volume,
    source.page === undefined ? '' : sources.pages(source.page.replace(/-+/gu, '–')),
    year ?? '',
    source.note ?? '',
  ].filter((part) => part !== '');
  const line = joinInlines(...listInlines(parts, ', '), '.');
  const address = source.DOI === undefined ? source.URL : `https://doi.org/${source.DOI}`;
  if (address === undefined || !/^https?:\/\//iu.test(address)) return line;
  return joinInlines(...line, ' ', { kind: 'link', to: address, inlines: joinInlines(address) });
}

/** 'D. Kleppner and R. Kolenkow': first names as initials, bodies by their full name. */
function nameList(people: Source['author'], { documents }: Phrases): string {
  const names = (people ?? []).map(({ family, given, literal }) => {
    if (literal !== undefined) return literal;
    const initials = (given ?? '')
      .split(/\s+/u)
      .filter((word) => word !== '')
      .map((word) =>
        word
          .split('-')
          .map((part) => `${part.charAt(0)}.`)
          .join('-'),
      )
      .join(' ');
    return [initials, family ?? ''].filter((part) => part !== '').join(' ');
  });
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')}${documents.and}${names.at(-1) ?? ''}`;
}
