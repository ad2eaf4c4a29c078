export { type ExplorerLab, writeExplorer } from './write-explorer.ts';
