export type { ExactStep, TrueRun } from './exact-step.ts';
export type { FitAxis, FitReport } from './fit-report.ts';
export type { KnownMotion, TimeFunction } from './known-motion.ts';
export { localPolynomialWeights } from './local-polynomial.ts';
export { type GivenStep, type PreparedReduction, prepareReduction } from './prepare-reduction.ts';
export { acrossRunsSteps, eachRunSteps } from './registry.ts';
export { beginRun, type ErrorPart, type ErrorSource, type RunState, type Scalar } from './state.ts';
export type {
  GivenSettings,
  InstrumentAtHand,
  PreparedStep,
  ReductionContext,
  ReductionStep,
  RowSet,
  StepGives,
} from './step.ts';
export type { StepSettingSpec } from './step-setting-spec.ts';
export { beginTrueRun } from './true-run.ts';
