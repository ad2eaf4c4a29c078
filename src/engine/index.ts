export { type Asked, type BatchResult, drawStatus, type PerDraw } from './asked.ts';
export { type BatchEngine, type BatchOptions, createBatchEngine } from './batch-engine.ts';
export type { Lanes } from './write-block.ts';
