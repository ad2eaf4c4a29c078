import { writeAssessment } from './assessment/index.ts';
import { writeCode } from './code/index.ts';
import type { DocumentKind, LabDocumentTree } from './document/index.ts';
import { writeDocx } from './docx/index.ts';
import { writeHtml } from './html/index.ts';
import { writePdf } from './pdf/index.ts';
import { writeSlidesHtml, writeSlidesPdf } from './slides/index.ts';
import { writeSpreadsheet } from './spreadsheet/index.ts';
import type { WriterExtras } from './writing/index.ts';

/** A way to write documents down. */
export interface Format {
  readonly name: 'html' | 'pdf' | 'docx' | 'spreadsheet' | 'code' | 'slides-pdf' | 'slides-html' | 'qti';
  /** Without a dot. */
  readonly extension: string;
  /** The documents that it is for. */
  readonly kinds: readonly DocumentKind[];
  readonly write: (
    tree: LabDocumentTree,
    extras: WriterExtras,
  ) => Promise<Uint8Array | string> | Uint8Array | string;
}

const PAPERS: readonly DocumentKind[] = [
  'handout',
  'teacher guide',
  'answer key',
  'equipment list',
  'set-up sheet',
  'data sheet',
];

/** Every format; a further one is a folder and a line here. The pack, which holds all of them, is `writePack`. */
export const FORMATS: readonly Format[] = [
  { name: 'html', extension: 'html', kinds: PAPERS, write: (tree) => writeHtml(tree) },
  { name: 'pdf', extension: 'pdf', kinds: PAPERS, write: (tree) => writePdf(tree) },
  { name: 'docx', extension: 'docx', kinds: PAPERS, write: (tree) => writeDocx(tree) },
  {
    name: 'spreadsheet',
    extension: 'xlsx',
    kinds: ['handout'],
    write: (tree, extras) => writeSpreadsheet(tree, extras),
  },
  { name: 'code', extension: 'py', kinds: ['handout'], write: (tree, extras) => writeCode(tree, extras) },
  { name: 'slides-pdf', extension: 'pdf', kinds: ['talk'], write: (tree) => writeSlidesPdf(tree) },
  { name: 'slides-html', extension: 'html', kinds: ['talk'], write: (tree) => writeSlidesHtml(tree) },
  {
    name: 'qti',
    extension: 'zip',
    kinds: ['answer key'],
    write: (tree, extras) => writeAssessment(tree, extras.stations),
  },
];
