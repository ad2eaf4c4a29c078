export { describeStepwise, type StepwiseOptions } from './describe-stepwise.ts';
export { runStepwise, type StepwiseRow, type StepwiseRun } from './run-stepwise.ts';
export type {
  StepwiseFriction,
  StepwiseInput,
  StepwiseJump,
  StepwiseModel,
  StepwiseState,
  StepwiseStop,
  StepwiseTerm,
} from './stepwise.ts';
