import { bytesToBase64 } from '../html/index.ts';
import { languageOf, phrasesOf } from '../language/index.ts';
import type { PackedFile } from '../pack/index.ts';
import { xmlAttribute, xmlText } from '../writing/index.ts';
import type { ExplorerPages } from './draft-pages.ts';

/** The lab that an explorer carries. */
export interface ExplorerLab {
  readonly title: string;
  /** Language of its words: 'en', 'de'. */
  readonly language: string;
  readonly decimalMark: '.' | ',';
  /** What it shows before its engine runs; HTML that was made here. */
  readonly pages: ExplorerPages;
  /** Of the lab file, as the documents speak it. */
  readonly text: string;
  /** Trial files, by their path in the lab's folder. */
  readonly files: readonly PackedFile[];
  /** Over everything that the documents are made from. */
  readonly digest: string;
  readonly madeBy: string;
}

/** Places of the template that are open, each there once. */
const OPEN = /@(language|title|made-by|digest|opening|papers|origin|lab)@/g;

/**
 * A lab with the engine in one HTML file, which computes by itself wherever it lies and asks no network.
 *
 * @param template the built explorer without a lab
 * @throws RangeError for a template that has not each of its open places once
 */
export function writeExplorer(template: string, lab: ExplorerLab): string {
  const { title, language, decimalMark, pages, text, files, digest, madeBy } = lab;
  const data = {
    text,
    files: files.map(({ path, sha256, bytes }) => ({ path, digest: sha256, base64: bytesToBase64(bytes) })),
    language,
    decimalMark,
  };
  const parts: Readonly<Record<string, string>> = {
    title: xmlText(title),
    'made-by': xmlAttribute(madeBy),
    digest: xmlAttribute(digest),
    language: xmlAttribute(language),
    opening: pages.opening,
    papers: pages.papers,
    origin: xmlText(`${phrasesIn(language).explorer.madeBy(madeBy)} ${digest}`),
    // Nothing in a lab can end the element that it stands in.
    lab: JSON.stringify(data).replaceAll('<', '\\u003c'),
  };
  const found = [...template.matchAll(OPEN)].map(([, name]) => name ?? '').sort();
  if (found.join() !== Object.keys(parts).sort().join())
    throw new RangeError(`An explorer's template has each open place once, not ${found.join(', ')}.`);
  return template.replace(OPEN, (_, name: string) => parts[name] ?? '');
}

function phrasesIn(written: string): ReturnType<typeof phrasesOf> {
  const language = languageOf(written);
  return phrasesOf(language.ok ? language.value : 'en');
}
