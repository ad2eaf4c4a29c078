export { type AdaptCondition, marginAt, readCondition } from './condition.ts';
export { type Course, followCourse } from './course.ts';
export { type Extremes, extremesAt, findExtremes } from './extremes.ts';
export { findRoot, type Root } from './find-root.ts';
export { createGauge, type Gauge, type GaugeOptions, type Scatter, type Spot } from './gauge.ts';
export { type FoundHazard, findHazards, HAZARDS, type Hazard, METRE_PER_SECOND } from './hazards.ts';
export { type EquipmentVerdict, type Judgement, judge, LIMITS, type Reason } from './judgement.ts';
export { type Measure, type MeasureKind, measureOfResult, readEffect, readMeasure } from './measure.ts';
export { type MapOptions, type MeasureMap, mapMeasures } from './measure-map.ts';
export { type Aim, type Optimum, type OptimumMethod, optimise } from './optimise.ts';
export { sayReason } from './say-reason.ts';
export {
  combineKits,
  type EquipmentOutlook,
  judgedResult,
  lookAtSpot,
  type Outlook,
  type ResultOutlook,
  type SurveyOptions,
  surveyKits,
} from './survey-kits.ts';
export { type Stretch, solveThreshold, type ThresholdAnswer } from './threshold.ts';
export { placesOf, readVariation, type Variation } from './variation.ts';
