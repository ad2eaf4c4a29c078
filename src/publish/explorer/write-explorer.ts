import { bytesToBase64 } from '../html/index.ts';
import type { PackedFile } from '../pack/index.ts';
import { xmlAttribute, xmlText } from '../writing/index.ts';

/** The lab that an explorer carries. */
export interface ExplorerLab {
  readonly title: string;
  /** Of the lab file, as the documents speak it. */
  readonly text: string;
  /** Trial files, by their path in the lab's folder. */
  readonly files: readonly PackedFile[];
  /** Over everything that the documents are made from. */
  readonly digest: string;
  readonly madeBy: string;
}

/** Places of the template that are open, each there once. */
const OPEN = /@(title|made-by|digest|lab)@/g;

/**
 * A lab with the engine in one HTML file, which computes by itself wherever it lies and asks no network.
 *
 * @param template the built explorer without a lab
 * @throws RangeError for a template that has not each of its open places once
 */
export function writeExplorer(template: string, lab: ExplorerLab): string {
  const { title, text, files, digest, madeBy } = lab;
  const data = {
    text,
    files: files.map(({ path, sha256, bytes }) => ({ path, digest: sha256, base64: bytesToBase64(bytes) })),
    digest,
    madeBy,
  };
  const parts: Readonly<Record<string, string>> = {
    title: xmlText(title),
    'made-by': xmlAttribute(madeBy),
    digest: xmlAttribute(digest),
    // Nothing in a lab can end the element that it stands in.
    lab: JSON.stringify(data).replaceAll('<', '\\u003c'),
  };
  const found = [...template.matchAll(OPEN)].map(([, name]) => name ?? '').sort();
  if (found.join() !== Object.keys(parts).sort().join())
    throw new RangeError(`An explorer's template has each open place once, not ${found.join(', ')}.`);
  return template.replace(OPEN, (_, name: string) => parts[name] ?? '');
}
