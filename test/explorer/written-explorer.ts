import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readLab } from '../../src/lab/index.ts';
import { digestOf } from '../../src/publish/document/index.ts';
import { writeExplorer } from '../../src/publish/explorer/index.ts';

/** The explorer without a lab, as it was built. */
export function readTemplate(): Promise<string> {
  return readFile('dist/explorer.html', 'utf8');
}

/** The explorer of a gallery lab, with another text of the lab file where one is given. */
export async function explorerOf(name: string, text?: string): Promise<string> {
  const folder = join('labs', name);
  const written = text ?? (await readFile(join(folder, 'lab.yaml'), 'utf8'));
  const lab = readLab(written, 'lab.yaml');
  if (!lab.ok) throw new Error(lab.problems[0]?.message);
  const paths = [...new Set(lab.value.trials.map(({ file }) => file))];
  const files = await Promise.all(
    paths.map(async (path) => {
      const bytes = new Uint8Array(await readFile(join(folder, path)));
      return { path, bytes, sha256: digestOf(bytes) };
    }),
  );
  const { title } = lab.value;
  return writeExplorer(await readTemplate(), {
    title,
    text: written,
    files,
    digest: digestOf(written),
    madeBy: 'Benchwright 0.0.0-test',
  });
}
