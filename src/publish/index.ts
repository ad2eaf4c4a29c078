export {
  type DocumentKind,
  digestOf,
  type LabDocumentTree,
  makeProvenance,
  type PrintSettings,
  type Provenance,
} from './document/index.ts';
export { draftDocuments } from './draft/index.ts';
export { type DocumentFormat, documentFormats, fileNameOf } from './formats.ts';
export { gather } from './gather/index.ts';
export {
  type Bibliography,
  createTexts,
  imagesIn,
  noSources,
  readBibliography,
  type TextFile,
} from './text/index.ts';
