/** The public face of Benchwright as a library: read a lab, run it, reconcile it. */

export * from './adapt/index.ts';
export * from './classroom/index.ts';
export {
  checkDimensions,
  compileFunction,
  differentiate,
  parseEquation,
  parseExpression,
  toTeX,
  toText,
} from './expression/index.ts';
export {
  darkTheme,
  type Figure,
  figureToSvg,
  fitFigure,
  ledgerFigure,
  lightTheme,
  settingFigure,
} from './figure/index.ts';
export * from './inference/index.ts';
export {
  createPipeline,
  type Lab,
  labJsonSchema,
  loadTrials,
  type Pipeline,
  readLab,
  readSetting,
  type TrialRun,
} from './lab/index.ts';
export { describeRecognition, readTrial, type TrialTable } from './lab/trial/index.ts';
export * from './problem/index.ts';
export {
  type Dimension,
  type Estimate,
  formatDimension,
  formatEstimate,
  formatMeasured,
  formatNumber,
  fromSI,
  type Magnitude,
  normalGravity,
  parseMagnitude,
  parseUnit,
  toSI,
  type Unit,
} from './quantity/index.ts';
export * from './reconcile/index.ts';
export * from './run/index.ts';
