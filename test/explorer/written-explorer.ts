import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { findLabFolder, makeSet } from '../../src/files/index.ts';
import { createPipeline, readLab } from '../../src/lab/index.ts';

/** The explorer without a lab, as it was built. */
export function readTemplate(): Promise<string> {
  return readFile('dist/explorer.html', 'utf8');
}

/** The explorer of a gallery lab as it is published, with another text of the lab file where one is given. */
export async function explorerOf(name: string, text?: string, language: 'en' | 'de' = 'en'): Promise<string> {
  const folder = await findLabFolder(name, process.cwd(), 'labs');
  if (!folder.ok) throw new Error(folder.problems[0]?.message);
  const written = text ?? (await readFile(join(folder.value.path, folder.value.labFile), 'utf8'));
  const lab = readLab(written, 'lab.yaml');
  if (!lab.ok) throw new Error(lab.problems[0]?.message);
  const read = {
    folder: folder.value,
    text: written,
    lab: lab.value,
    pipeline: createPipeline(lab.value),
    isUnsaved: text !== undefined,
  };
  const made = await makeSet(read, {
    settings: {
      language,
      decimalMark: language === 'de' ? ',' : '.',
      paper: 'a4',
      notation: 'plus-minus',
    },
    madeBy: 'Benchwright 0.0.0-test',
    explorer: 'dist/explorer.html',
    formats: ['explorer'],
    signal: { aborted: false },
    progress: () => undefined,
  });
  if (!made.ok) throw new Error(made.problems[0]?.message);
  const content = made.value.files.find((file) => file.name === 'explorer.html')?.content;
  if (typeof content !== 'string') throw new Error('no explorer was written');
  return content;
}
