export {
  type DocumentKind,
  digestOf,
  type LabDocumentTree,
  makeProvenance,
  type PrintSettings,
  type Provenance,
} from './document/index.ts';
export { draftDocuments } from './draft/index.ts';
export { fileNameOf } from './file-name.ts';
export { FORMATS, type Format } from './formats.ts';
export { gather } from './gather/index.ts';
export { gatherExtras } from './gather-extras.ts';
export { writePack } from './pack/index.ts';
export {
  type Bibliography,
  createTexts,
  imagesIn,
  noSources,
  readBibliography,
  type TextFile,
} from './text/index.ts';
