export { type BatchNeeds, type BatchSimulator, createBatchSimulator } from './batch-simulator.ts';
export { nameSteps, type WrittenChange } from './change-forms.ts';
export type { ChangeReadings } from './changed-readings.ts';
export type { CountedPart, OutsideReadings } from './counted-part.ts';
export type { LabDocument, Path } from './document.ts';
export { readDocument } from './document.ts';
export type { Effect, Setting } from './effect-section.ts';
export { inItsUnit, readSetting } from './effect-section.ts';
export type { LabInstrument } from './instrument-section.ts';
export { labJsonSchema } from './json-schema.ts';
export type { Kit } from './kit-section.ts';
export type { Correlation, DerivationLine, InferPlan, Lab, Plan, RivalModel } from './lab.ts';
export { type LoadOptions, loadTrials, type ReadFile, type TrialRun } from './load-trials.ts';
export {
  createPipeline,
  type Pipeline,
  type ReduceOptions,
  type SimulatedRun,
  type SimulateOptions,
  withReduction,
} from './pipeline.ts';
export { baseQuantitiesBehind, type QuantityValues, quantityNames } from './quantity-function.ts';
export type { BaseQuantity, DerivedQuantity, Quantities, Quantity } from './quantity-section.ts';
export { readLab } from './read-lab.ts';
export type { Reduction } from './reduction-section.ts';
export type { ReportedChange } from './reported-change.ts';
export type { LabResult } from './result-section.ts';
export type { Slip, SlipSetting } from './slip-section.ts';
export type { DrawnFrom, DrawnStations, Pooling, Station, Stations } from './station-section.ts';
export type { Overrule, Recognition, TableColumn, TextCells, TrialTable } from './trial/index.ts';
export { describeRecognition, readCells, readTrial } from './trial/index.ts';
export type { TrialEntry } from './trial-section.ts';
export { withValues } from './with-values.ts';
export type { WrittenParts, WrittenStep } from './written-parts.ts';
