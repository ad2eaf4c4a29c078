export {
  STEPPERS,
  type StepperTable,
  type StepRow,
  type StepsOptions,
  tabulateSteps,
} from './classroom-table.ts';
export { type CompareOptions, compareModels, type WeighedModel } from './compare-models.ts';
export { checkDerivation, type DerivationCheck, type LineVerdict } from './derivation.ts';
export { warnOfEffectsWithoutInfluence } from './effects-without-influence.ts';
export { groupRuns, labelSettings, mainGroup, plannedGroups, type RunGroup } from './groups.ts';
export { type InferOptions, infer } from './infer.ts';
export type { Inference, InferredQuantity } from './infer-report.ts';
export { judgeLinearity } from './judge-linearity.ts';
export { createManyRuns, type ManyRuns, type RunPoints, type RunsTaker } from './many-runs.ts';
export {
  drawQuantities,
  type MonteCarloOptions,
  type MonteCarloStatement,
} from './monte-carlo-quantities.ts';
export {
  allEffects,
  gatherOutputs,
  listOutputs,
  type Output,
  type RunScalars,
  reduceGroups,
  settingsOff,
  simulateGroups,
  valuesOfGroup,
} from './outputs.ts';
export {
  type PredictedHold,
  type PredictedValue,
  type Prediction,
  type PredictOptions,
  predict,
} from './predict.ts';
export { type BudgetLine, type QuantityStatement, stateQuantities, USUAL_LEVEL } from './quantity-budget.ts';
export { type ReducedRun, type ReducedTrials, reduceTrials } from './reduce.ts';
export { measureStepShifts, type StepShift } from './reduction-shifts.ts';
export { type Rehearsal, type RehearsedOutput, type RehearseOptions, rehearse } from './rehearse.ts';
export { type SimulateRuns, spreadByRuns } from './run-spread.ts';
export { drawRun, type RunVariation } from './run-variation.ts';
export { settleVariation } from './settle-variation.ts';
export type { SimulationPoint } from './simulate-many.ts';
export { fitTable } from './table-fit/fit-table.ts';
export type { TableFit, TableFitRequest } from './table-fit/table-fit.ts';
