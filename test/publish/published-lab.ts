import { readdirSync, readFileSync } from 'node:fs';
import type { PrintSettings } from '../../src/publish/document/index.ts';
import type { Gathered } from '../../src/publish/gather/index.ts';
import { createTexts, digestOf, readBibliography } from '../../src/publish/index.ts';
import { type SetFile, writeSet } from '../../src/publish/write-set.ts';
import { gatherLab, take } from './draft/gathered-lab.ts';

/** Every file of a gallery lab's folder that has to do with its documents, by its path there. */
function filesOf(name: string): ReadonlyMap<string, Uint8Array> {
  const folder = new URL(`../../labs/${name}/`, import.meta.url);
  const paths = readdirSync(folder, { recursive: true }).map((path) => String(path).replaceAll('\\', '/'));
  return new Map(
    paths
      .filter((path) => /^(?:lab\.yaml|references\.bib|text\/.*\.md|trials\/.*\..*)$/u.test(path))
      .map((path) => [path, new Uint8Array(readFileSync(new URL(path, folder)))]),
  );
}

/** A gallery lab with its trials, gathered with few draws: enough for every number to be there. */
export function gatherQuickly(name: string): Promise<Gathered> {
  return gatherLab(name, { withTrials: true, draws: 40, rehearsals: 10 });
}

/** Its documents, as `benchwright publish` writes them in the lab's own language. */
export async function publishLab(
  name: string,
  gathered: Gathered,
  settings: PrintSettings,
  formats: readonly string[],
): Promise<readonly SetFile[]> {
  const files = filesOf(name);
  const textOf = (path: string) => {
    const bytes = files.get(path);
    return bytes === undefined ? null : { file: path, source: new TextDecoder().decode(bytes) };
  };
  const references = textOf('references.bib');
  const texts = createTexts({
    handout: textOf('text/handout.md'),
    guide: textOf('text/guide.md'),
    images: new Map(),
    ...(references === null
      ? {}
      : { bibliography: take(await readBibliography(references.source, references.file)) }),
  });
  const labFiles = [...files].map(([path, bytes]) => ({ path, bytes, sha256: digestOf(bytes) }));
  return take(
    await writeSet(gathered, {
      settings,
      sources: labFiles.map(({ path, sha256 }) => ({ file: path, sha256 })),
      madeBy: 'Benchwright 0.0.0-test',
      texts,
      formats,
      labFiles,
    }),
  );
}
