export * from './make.ts';
export { type PlainSettings, plainLine } from './plain.ts';
export { digestOf, makeProvenance } from './provenance.ts';
export type * from './tree.ts';
export { forStudents, linesOf, walkBlocks, walkInlines } from './walk.ts';
