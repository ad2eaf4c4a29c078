export { ByteWriter } from './byte-writer.ts';
export { writeFunction, writePower } from './elementary.ts';
export { libraryFunction, libraryTypes } from './elementary-library.ts';
export { evaluateGraph } from './evaluate-graph.ts';
export {
  Graph,
  GraphTooLarge,
  isConstant,
  type Node,
  nodesBelow,
  type RowPlace,
  type Slot,
} from './graph.ts';
export {
  type RegisterLanes,
  registerType,
  writeAccess,
  writeOperation,
  writeVector,
} from './instructions.ts';
export { LocalPool } from './local-pool.ts';
export {
  type FunctionType,
  functionBody,
  type ModuleParts,
  type WrittenFunction,
  writeModule,
} from './module-bytes.ts';
export { code, valueType, vector } from './opcodes.ts';
export { exponentialTerms, sineTerms } from './polynomial-coefficients.ts';
export {
  arcTangent,
  cosine,
  cubeRoot,
  exp,
  expLessOne,
  exponentOf,
  hypotenuse,
  ln,
  lnOfOneMore,
  log10,
  power,
  sine,
} from './portable-functions.ts';
export { type ScratchMemory, scratchMemory } from './scratch-memory.ts';
export {
  instantiate,
  type ModuleFunction,
  type ModuleMemory,
  makeMemory,
  pageSize,
} from './web-assembly.ts';
export { type BlockForm, type BlockTask, type OpenBlock, writeOperations } from './write-operations.ts';
