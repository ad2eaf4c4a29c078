import type { LabDocumentTree } from './document/index.ts';
import { writeDocx } from './docx/index.ts';
import { writeHtml } from './html/index.ts';
import { writePdf } from './pdf/index.ts';

/** A format that every document can be written in. A further one is a folder and one line here. */
export interface DocumentFormat {
  /** As on the command line, and the ending of its files. */
  readonly name: string;
  readonly write: (tree: LabDocumentTree) => Promise<Uint8Array | string>;
}

/** The formats of documents, in the order in which they are written. */
export const documentFormats: readonly DocumentFormat[] = [
  { name: 'html', write: async (tree) => writeHtml(tree) },
  { name: 'pdf', write: async (tree) => writePdf(tree) },
  { name: 'docx', write: async (tree) => writeDocx(tree) },
];

/** 'handout-algebra', 'teacher-guide': the name of a document's file, without its ending. */
export function fileNameOf(tree: Pick<LabDocumentTree, 'kind' | 'level'>): string {
  const kind = tree.kind.replaceAll(' ', '-');
  return tree.level === null ? kind : `${kind}-${tree.level}`;
}
