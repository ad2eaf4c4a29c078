export { type Extremes, extremesAt, findExtremes } from './extremes.ts';
export { type FoundHazard, findHazards, HAZARDS, type Hazard, METRE_PER_SECOND } from './hazards.ts';
