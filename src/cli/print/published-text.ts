import type { Lab } from '../../lab/index.ts';
import { printTitle } from './heading.ts';
import type { Page } from './page.ts';
import { printParagraph } from './table.ts';

/** What was published, and where. */
export function printPublished(page: Page, lab: Lab, folder: string, files: readonly string[]): string[] {
  const byDocument = new Map<string, string[]>();
  for (const file of files) {
    const at = file.lastIndexOf('.');
    const document = file.slice(0, at);
    byDocument.set(document, [...(byDocument.get(document) ?? []), file.slice(at + 1)]);
  }
  const widest = Math.max(0, ...[...byDocument.keys()].map((name) => name.length));
  return [
    ...printTitle(page, lab),
    '',
    ...printParagraph(page, page.plain(`${files.length} files in ${folder}:`)),
    ...[...byDocument].map(([name, endings]) =>
      page.plain(`  ${name.padEnd(widest)}  ${endings.join(', ')}`),
    ),
  ];
}

/** Whether a published set still matches its lab. */
export function printStale(page: Page, folder: string, count: number, stale: number): string[] {
  const text =
    stale === 0
      ? `All ${count} documents in ${folder} match the lab and its trials.`
      : `${stale} of ${count} documents in ${folder} no longer match.`;
  return printParagraph(page, page.plain(text));
}
