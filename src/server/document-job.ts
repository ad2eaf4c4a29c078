import { join } from 'node:path';
import {
  digestOfBytes,
  type LabFolder,
  makeSet,
  readLabText,
  readPublished,
  refusal,
  Stopped,
  type TellProgress,
  writeWholeFolder,
} from '../files/index.ts';
import { createPipeline, readLab } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { PrintSettings } from '../publish/index.ts';

/** Documents to be made; it goes to the thread that makes them as it is. */
export interface DocumentOrder {
  readonly folder: LabFolder;
  /** In place of the lab file, where the page has a text that is not on the disk. */
  readonly labText: string | null;
  readonly settings: PrintSettings;
  readonly madeBy: string;
  /** Null: all. */
  readonly formats: readonly string[] | null;
  readonly documents: readonly string[] | null;
  /** Where the built explorer lies. */
  readonly explorer: string;
  /** The folder to publish into; null where the documents are only handed back. */
  readonly to: string | null;
}

/** A document that was made. */
export interface MadeFile {
  readonly path: string;
  readonly size: number;
  readonly digest: string;
  /** Only where nothing was published. */
  readonly content: Uint8Array | null;
}

export interface MadeDocuments {
  readonly files: readonly MadeFile[];
  readonly notes: readonly Problem[];
}

/**
 * Makes documents, and publishes them where the order says so: the set that is there stays whole until the new one is.
 *
 * @throws Stopped, or what the computation throws, where `signal` asks for it
 */
export async function makeDocuments(
  order: DocumentOrder,
  signal: { readonly aborted: boolean },
  progress: TellProgress,
): Promise<Outcome<MadeDocuments>> {
  const { folder, settings, madeBy, formats, documents, explorer, to } = order;
  const there = to === null ? succeed(null) : await readPublished(to, 'published');
  if (!there.ok) return there;
  const text = order.labText === null ? await readLabText(folder) : succeed(order.labText);
  if (!text.ok) return text;
  const lab = readLab(text.value, folder.labFile);
  if (!lab.ok) return lab;
  const isUnsaved = order.labText !== null;
  const read = { folder, text: text.value, lab: lab.value, pipeline: createPipeline(lab.value), isUnsaved };
  const made = await makeSet(read, {
    settings,
    madeBy,
    explorer,
    signal,
    progress,
    ...(formats === null ? {} : { formats }),
    ...(documents === null ? {} : { documents }),
  });
  if (!made.ok) return made;
  const { files, list } = made.value;
  if (files.length === 0)
    return fail(problem('no-such-document', {}, 'The lab has no document of this name in this format.'));
  if (to !== null) {
    try {
      await writeWholeFolder(to, [...files, list], { replace: there.value !== null, signal });
    } catch (error) {
      if (error instanceof Stopped) throw error;
      return fail(refusal(error, 'published', 'written'));
    }
  }
  const encoder = new TextEncoder();
  const described = files.map(({ name, content }): MadeFile => {
    const bytes = typeof content === 'string' ? encoder.encode(content) : content;
    const entry = { path: name, size: bytes.length, digest: digestOfBytes(bytes) };
    return { ...entry, content: to === null ? bytes : null };
  });
  return succeed({ files: described, notes: [...lab.warnings, ...made.warnings] });
}

/** Where the documents of a lab are published: in its folder, or beside the server for a lab that is not written to. */
export function publishedFolder(
  lab: { readonly id: string; readonly folder: LabFolder; readonly mine: boolean },
  aside: string,
): string {
  return lab.mine ? join(lab.folder.path, 'published') : join(aside, lab.id);
}
