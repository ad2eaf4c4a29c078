export type { PackedFile } from './data-package.ts';
export type { PackedLab } from './packed-lab.ts';
export { type PackContents, writePack } from './write-pack.ts';
