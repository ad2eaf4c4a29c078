export { type Asked, type BatchResult, drawStatus, type PerDraw } from './asked.ts';
export { type BatchEngine, type BatchOptions, createBatchEngine } from './batch-engine.ts';
export {
  createTrajectoryFitter,
  type TrajectoryFitOptions,
  type TrajectoryFitter,
  type TrajectoryReadings,
} from './fit-trajectories.ts';
export { fivePointGauss } from './five-point-gauss.ts';
export type { GivenColumn, RowProgram, RowStep } from './row-program.ts';
export type { Lanes } from './write-block.ts';
