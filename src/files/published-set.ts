import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import * as z from 'zod';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { digestOf, type PrintSettings, type Provenance } from '../publish/index.ts';
import { refusal } from './file-problems.ts';
import { mendFolder, type NewFile } from './whole-files.ts';

/** The file that says of a published set what it was made from; a folder that holds it is ours to replace. */
const LIST = 'published.json';

const listForm = z.strictObject({
  made_by: z.string(),
  digest: z.string(),
  settings: z.strictObject({
    language: z.string(),
    decimalMark: z.enum(['.', ',']),
    paper: z.enum(['a4', 'letter']),
    notation: z.enum(['plus-minus', 'brackets']),
  }),
  sources: z.record(z.string(), z.string()),
  files: z.record(z.string(), z.string()),
});

export type PublishedList = z.infer<typeof listForm>;

/** The list of a set, to be written beside its documents. */
export function listOf(files: readonly NewFile[], provenance: Provenance, settings: PrintSettings): NewFile {
  const list: PublishedList = {
    made_by: provenance.madeBy,
    digest: provenance.digest,
    settings: { ...settings, language: settings.language },
    sources: Object.fromEntries(provenance.sources.map(({ file, sha256 }) => [file, sha256])),
    files: Object.fromEntries(files.map(({ name, content }) => [name, digestOf(content)])),
  };
  return { name: LIST, content: `${JSON.stringify(list, null, 2)}\n` };
}

/**
 * Reads the list of a published set; what a killed run left of it is put right first.
 *
 * @returns null where the folder is not there; fails where it is there and is no published set
 */
export async function readPublished(path: string, shown: string): Promise<Outcome<PublishedList | null>> {
  try {
    await mendFolder(path);
  } catch (error) {
    return fail(refusal(error, shown, 'written'));
  }
  const isThere = await stat(path).catch(() => null);
  if (isThere === null) return succeed(null);
  try {
    return succeed(listForm.parse(JSON.parse(await readFile(join(path, LIST), 'utf8'))));
  } catch {
    return fail(
      problem(
        'already-there',
        {},
        `"${shown}" is there and holds no published set of this program.`,
        'Give another folder with --out, or move this one away.',
      ),
    );
  }
}

/** Files of a set that are missing or were changed by hand since it was published. */
export async function changedFiles(path: string, list: PublishedList): Promise<readonly string[]> {
  const changed: string[] = [];
  for (const [name, digest] of Object.entries(list.files)) {
    const bytes = await readFile(join(path, name)).catch(() => null);
    if (bytes === null || digestOf(new Uint8Array(bytes)) !== digest) changed.push(name);
  }
  return changed;
}
