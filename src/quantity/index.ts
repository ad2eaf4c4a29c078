export { type AirState, airDensity } from './air-density.ts';
export { coherentUnit } from './coherent-unit.ts';
export { type Constant, constants, findConstant } from './constants.ts';
export { convertibleTo, convertValue } from './convert.ts';
export type { DecimalMark } from './decimal.ts';
export {
  type Dimension,
  describeDimension,
  dimensionless,
  divideDimensions,
  formatDimension,
  isUnknownDimension,
  multiplyDimensions,
  raiseDimension,
  sameDimension,
  unknownDimension,
} from './dimension.ts';
export {
  combineUncertainties,
  type Distribution,
  type Estimate,
  exactly,
  fromObservations,
  withExpanded,
  withinLimits,
  withReading,
  withStandardUncertainty,
} from './estimate.ts';
export {
  formatEstimate,
  formatMeasured,
  formatUnit,
  type MeasuredFormat,
  type MeasuredValue,
  type Notation,
} from './format-measured.ts';
export { formatNumber, type NumberFormat } from './format-number.ts';
export { type Ellipsoid, grs80, normalGravity, wgs84 } from './gravity.ts';
export { type Magnitude, parseMagnitude } from './magnitude.ts';
export { parseUnit } from './parse-unit.ts';
export { fromSI, type Kind, toSI, type Unit } from './unit.ts';
export { isKnownUnit } from './unit-lookup.ts';
export { type UnitEntry, unitTable } from './unit-table.ts';
export { waterDensity } from './water-density.ts';
