import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import {
  type LabDocumentTree,
  makeProvenance,
  type PrintSettings,
  type Provenance,
} from './document/index.ts';
import { type AuthorsTexts, draftDocuments } from './draft/index.ts';
import { draftPages, writeExplorer } from './explorer/index.ts';
import { fileNameOf } from './file-name.ts';
import { FORMATS, type Format } from './formats.ts';
import type { Gathered } from './gather/index.ts';
import { gatherExtras } from './gather-extras.ts';
import { type PackedFile, writePack } from './pack/index.ts';

/** A file of a published set. */
export interface SetFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/**
 * Formats as one asks for them: slides are one, though they come in two; the explorer holds the lab itself, and the
 * pack all the others.
 */
export const SET_FORMATS: readonly string[] = [...new Set(FORMATS.map(shortName)), 'explorer', 'pack'];

export interface SetRequest {
  readonly settings: PrintSettings;
  /** Name and SHA-256 of every file that the documents are made from. */
  readonly sources: Provenance['sources'];
  /** 'Benchwright 0.1.0'. */
  readonly madeBy: string;
  readonly texts: AuthorsTexts | null;
  /** Words of the lab that were put into the language of the documents. */
  readonly translated?: ReadonlySet<string>;
  /** Of `SET_FORMATS`; all where left out. */
  readonly formats?: readonly string[];
  /** Kinds ('teacher guide') or names ('handout-algebra') of the documents that are wanted; all where left out. */
  readonly documents?: readonly string[];
  /** Raw files of the lab's folder, for the pack. */
  readonly labFiles: readonly PackedFile[];
  /** The built explorer without a lab, and the text of the lab file that goes into it; without it there is none. */
  readonly explorer?: { readonly template: string; readonly labText: string };
  /** Called before each document; what it throws ends the writing. */
  readonly progress?: (done: number, total: number) => void;
}

/** Formats that hold the model itself, not a document: the same at every level. */
const MODELS: ReadonlySet<string> = new Set(['spreadsheet', 'code']);

/**
 * Every document of a lab in every format that was asked for, in memory.
 *
 * Same lab, same settings, same bytes.
 *
 * @returns the files in the order of the documents, or every fault of the author's texts
 */
export async function writeSet(
  gathered: Gathered,
  request: SetRequest,
): Promise<Outcome<readonly SetFile[]>> {
  const { settings, sources, madeBy, texts, formats = SET_FORMATS, progress } = request;
  const { translated, documents, explorer } = request;
  const drafted = draftDocuments(
    gathered,
    { settings, sources, madeBy, ...(translated === undefined ? {} : { translated }) },
    texts,
  );
  if (!drafted.ok) return drafted;
  const extras = gatherExtras(gathered);
  const hasPack = formats.includes('pack');
  const hasExplorer = explorer !== undefined && (hasPack || formats.includes('explorer'));
  const isWanted = (tree: LabDocumentTree) =>
    documents === undefined || documents.includes(tree.kind) || documents.includes(fileNameOf(tree));
  const jobs = drafted.value.flatMap((tree, index) =>
    FORMATS.filter(({ kinds }) => kinds.includes(tree.kind) && isWanted(tree))
      .filter(({ name }) => !MODELS.has(name) || (extras.stepwise !== null && index === 0))
      .filter((format) => hasPack || formats.includes(shortName(format)))
      .map((format) => ({ tree, format })),
  );
  const total = jobs.length + (hasExplorer ? 1 : 0) + (hasPack ? 1 : 0);
  const written: { readonly format: Format; readonly file: SetFile }[] = [];
  for (const { tree, format } of jobs) {
    progress?.(written.length, total);
    const file = { name: nameOf(tree, format), content: await format.write(tree, extras) };
    written.push({ format, file });
  }
  const { lab } = gathered.pipeline;
  const provenance = makeProvenance(sources, settings, madeBy);
  const others: SetFile[] = [];
  if (hasExplorer) {
    progress?.(jobs.length, total);
    const { title, trials } = lab;
    const paths = new Set(trials.map(({ file }) => file));
    const content = writeExplorer(explorer.template, {
      title,
      language: settings.language,
      decimalMark: settings.decimalMark,
      pages: draftPages(
        gathered,
        drafted.value.filter(({ kind }) => kind === 'handout'),
        translated,
      ),
      text: explorer.labText,
      files: request.labFiles.filter(({ path }) => paths.has(path)),
      digest: provenance.digest,
      madeBy,
    });
    others.push({ name: 'explorer.html', content });
  }
  const files = [
    ...written.filter(({ format }) => formats.includes(shortName(format))).map(({ file }): SetFile => file),
    ...(formats.includes('explorer') ? others : []),
  ];
  if (!hasPack) return succeed(files, drafted.warnings);
  progress?.(total - 1, total);
  const pack = writePack({
    lab: {
      title: lab.title,
      about: [lab.question, gathered.extras.about].filter((text) => text !== '').join(' '),
      licence: gathered.extras.licence,
      provenance,
    },
    documents: new Map(
      [...written.map(({ file }) => file), ...others].map(({ name, content }) => [name, content]),
    ),
    files: request.labFiles,
    trials: extras.trials,
  });
  return succeed([...files, { name: 'pack.zip', content: pack }], drafted.warnings);
}

function shortName({ name }: Format): string {
  return name.startsWith('slides') ? 'slides' : name;
}

function nameOf(tree: LabDocumentTree, { name, extension }: Format): string {
  return `${MODELS.has(name) ? 'model' : fileNameOf(tree)}.${extension}`;
}
