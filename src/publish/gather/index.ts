export type { Expected, ExpectedResult } from './expected.ts';
export { type Gathered, type GatherOptions, gather, mainLedger } from './gather.ts';
export { type HandState, type HandSteps, idealRate } from './hand-steps.ts';
export type { LabExtras, NamedSettings } from './lab-extras.ts';
