export { draftPages, type ExplorerPages } from './draft-pages.ts';
export { type ExplorerLab, writeExplorer } from './write-explorer.ts';
