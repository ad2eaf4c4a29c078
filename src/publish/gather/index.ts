export type { Expected, ExpectedResult } from './expected.ts';
export { type Gathered, type GatherOptions, gather, mainLedger } from './gather.ts';
export type { HandState, HandSteps } from './hand-steps.ts';
export type { LabExtras, NamedSettings } from './lab-extras.ts';
export { type PrintedLaw, printedLaw } from './printed-law.ts';
