import { createHash } from 'node:crypto';
import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { errorCode, type NewFile, refusal } from '../../files/index.ts';
import type { Lab } from '../../lab/index.ts';
import { inItsUnit } from '../../lab/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import type { Rehearsal } from '../../run/index.ts';
import { csvColumnsOf, writeReadingsCsv } from './readings-csv.ts';

/** The first line of the readme: by it a folder of rehearsed readings is known again. */
const mark = '# Rehearsed readings: computed, not measured';

const readme = 'README.md';

/** The files of a rehearsal's first round: one CSV a run, and a readme that says what they are. */
export function rehearsedFiles(lab: Lab, rehearsal: Rehearsal, seed: number): readonly NewFile[] {
  const runs = rehearsal.readings.map(({ group, repeat, readings }) => {
    const when = rehearsal.groups[group]?.when ?? [];
    const setting = when
      .map(({ quantity, value }) => `${quantity.name}=${inItsUnit(quantity, value).replaceAll(' ', '')}`)
      .join(' ');
    const columns = csvColumnsOf(readings);
    const name = `${[safeName(setting), `run-${repeat + 1}`].filter((part) => part !== '').join('-')}.csv`;
    return {
      name: rehearsal.groups.length > 1 ? `${group + 1}-${name}` : name,
      when,
      columns,
      content: writeReadingsCsv(columns, `rehearsed by benchwright (seed ${seed}): computed, not measured`),
    };
  });
  const entries = runs.map(({ name, when, columns }) => {
    const reads = new Map<string, string[]>();
    for (const column of columns) {
      reads.set(column.instrument, [
        ...(reads.get(column.instrument) ?? []),
        `${column.rawColumn}: ${inQuotes(column.heading)}`,
      ]);
    }
    const instruments = [...reads]
      .map(([instrument, own]) => `${inQuotes(instrument)}: { ${own.join(', ')} }`)
      .join(', ');
    const settings = when
      .map(({ quantity, value }) => `${quantity.name}: ${inItsUnit(quantity, value)}`)
      .join(', ');
    return `  - { file: ${name}, reads: { ${instruments} }${settings === '' ? '' : `, when: { ${settings} }`} }`;
  });
  const text = [
    mark,
    '',
    `These readings of "${lab.title}"`,
    `were computed by benchwright from the lab's own model, with the resolution and noise of its instruments (seed ${seed}).`,
    'Nobody measured them: do not hand them in as data, and do not mix them with trials.',
    '',
    'To take them through the lab like real runs, name them in a copy of the lab file:',
    '',
    '```yaml',
    'trials:',
    ...entries,
    '```',
    '',
    'SHA-256 of the files, by which a later rehearsal knows that nothing in this folder is anybody else’s:',
    '',
    ...runs.map(({ name, content }) => `    ${digest(content)}  ${name}`),
    '',
  ].join('\n');
  return [{ name: readme, content: text }, ...runs.map(({ name, content }) => ({ name, content }))];
}

/**
 * Whether a folder may be filled with rehearsed readings.
 *
 * @returns whether it is there and must be replaced; a problem where it holds anything that no rehearsal wrote
 */
export async function mayBeRehearsedInto(
  path: string,
  shown: string,
): Promise<Outcome<{ readonly isThere: boolean }>> {
  try {
    if (!(await stat(path)).isDirectory()) {
      return fail(problem('already-there', {}, `"${shown}" is a file; --out names a folder.`));
    }
    const names = await readdir(path);
    const foreign = names.length === 0 ? null : await firstForeign(path, names);
    if (foreign === null) return succeed({ isThere: true });
    return fail(
      problem(
        'already-there',
        {},
        `"${shown}" holds "${foreign}", which no rehearsal wrote or which was changed since; nothing was written.`,
        'Choose another folder for --out, or move that file away.',
      ),
    );
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return succeed({ isThere: false });
    return fail(refusal(error, shown, 'read'));
  }
}

/** The first entry that is not exactly as a rehearsal wrote it; null where all are. */
async function firstForeign(path: string, names: readonly string[]): Promise<string | null> {
  if (!names.includes(readme)) return names[0] ?? null;
  const text = await readFile(join(path, readme), 'utf8');
  if (!text.startsWith(`${mark}\n`)) return readme;
  const own = new Map(
    [...text.matchAll(/^ {4}([0-9a-f]{64}) {2}(.+)$/gm)].map(([, sha256, name]) => [name, sha256]),
  );
  for (const name of names) {
    if (name === readme) continue;
    const sha256 = own.get(name);
    if (sha256 === undefined || digest(await readFile(join(path, name))) !== sha256) return name;
  }
  return null;
}

function digest(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}

/** Letters, digits and the few signs that every file system takes. */
function safeName(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9._=]+/g, '-')
    .replace(/^[-.]+|[-.]+$/g, '');
}

/** A text in double quotes, as YAML reads it (JSON's strings are YAML's). */
function inQuotes(text: string): string {
  return JSON.stringify(text);
}
