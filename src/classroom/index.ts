export { type Bench, createBench, type GroupResults, type TakenRuns } from './bench.ts';
export { drawStations, type ListOptions, listStations, type StationOfGroup } from './list-stations.ts';
export { type Pooled, type PooledValue, poolResults, type StationResults } from './pool-results.ts';
export {
  type ClassOptions,
  type ClassRehearsal,
  type ExpectedStation,
  type PooledOutlook,
  rehearseClass,
  type StationOutlook,
} from './rehearse-class.ts';
