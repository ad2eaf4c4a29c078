export { digestOf, makeProvenance, type PrintSettings, type Provenance } from './document/index.ts';
export { gather } from './gather/index.ts';
export {
  type Bibliography,
  createTexts,
  imagesIn,
  noSources,
  readBibliography,
  type TextFile,
  translateLab,
} from './text/index.ts';
export { SET_FORMATS, writeSet } from './write-set.ts';
