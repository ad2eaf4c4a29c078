export { ByteWriter } from './byte-writer.ts';
export { writeFunction, writePower } from './elementary.ts';
export { evaluateGraph } from './evaluate-graph.ts';
export { Graph, GraphTooLarge, isConstant, type Node, nodesBelow, type Slot } from './graph.ts';
export {
  type RegisterLanes,
  registerType,
  writeAccess,
  writeOperation,
  writeVector,
} from './instructions.ts';
export { LocalPool } from './local-pool.ts';
export { memoryImport, runExport, writeModule } from './module-bytes.ts';
export { code, valueType, vector } from './opcodes.ts';
export { instantiate, type RunningModule } from './web-assembly.ts';
