export { applySlips } from './apply-slips.ts';
export { type Bench, createBench, type GroupResults, type TakenRuns } from './bench.ts';
export { type CalibrateOptions, calibrateMarker, type PlantedCause } from './calibrate-marker.ts';
export { type ListedReport, readClassList } from './class-list.ts';
export { classListCsv, classListPage, csvCell, type MarkedLine } from './class-list-texts.ts';
export { explainCause, nameCause, sayBand, sayFromData } from './explain-cause.ts';
export { generalSlips } from './general-slips.ts';
export { type Cause, EFFECT_TIMES, type Hypothesis, PRIORS, UNKNOWN_SPREAD } from './hypotheses.ts';
export { logStudentDensity } from './joint-density.ts';
export type { MarkingLanguage } from './language/index.ts';
export { drawStations, type ListOptions, listStations, type StationOfGroup } from './list-stations.ts';
export { markList } from './mark-list.ts';
export { type MarkedReport, markReport, type RankedCause, type ReportedNumber } from './mark-report.ts';
export { type Pooled, type PooledValue, poolResults, type StationResults } from './pool-results.ts';
export { type Marker, type MarkerOptions, prepareMarker } from './prepare-marker.ts';
export { readGroupFile } from './read-group-file.ts';
export { findResult, findStation, readReportedNumber } from './read-reported.ts';
export { readingsOfTable, runsIn } from './readings-of-table.ts';
export {
  type ClassOptions,
  type ClassRehearsal,
  type ExpectedStation,
  type PooledOutlook,
  rehearseClass,
  type StationOutlook,
} from './rehearse-class.ts';
export { changesResult, runSlip, type SlippedResult, type SlipResults } from './slip-results.ts';
