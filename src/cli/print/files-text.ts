import type { TrialRun } from '../../lab/index.ts';
import { printHeading } from './heading.ts';
import type { Page } from './page.ts';
import { printTable } from './table.ts';

/** Digits of a digest that tell files apart at a glance; the JSON has them all. */
const digestDigits = 12;

/** The raw files that the numbers came from, with the beginning of the SHA-256 of each. */
export function printFiles(page: Page, runs: readonly TrialRun[]): string[] {
  if (runs.length === 0) return [];
  const files = new Map<string, { readonly sha256: string; readonly names: string[] }>();
  for (const { entry, sha256 } of runs) {
    const file = files.get(entry.file) ?? { sha256, names: [] };
    file.names.push(entry.setAside === null ? entry.name : `${entry.name} (set aside)`);
    files.set(entry.file, file);
  }
  return [
    '',
    printHeading(page, 'Files, with the first digits of their SHA-256'),
    ...printTable(
      page,
      [{}, {}, { widest: 60 }],
      [...files].map(([file, { sha256, names }]) => [
        page.plain(`  ${file}`),
        { text: sha256.slice(0, digestDigits), style: 'faint' },
        page.plain(names.join(', ')),
      ]),
    ),
  ];
}
