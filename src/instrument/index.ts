export { type CleanedRows, cleanStamps, type RowFate, takeRows } from './clean-stamps.ts';
export { hasFlag } from './gates-on-rows.ts';
export type {
  Column,
  ColumnShape,
  InstrumentKind,
  LanesReading,
  LanesSeries,
  Readings,
  SignalShape,
  SignalSpec,
} from './instrument-kind.ts';
export { instrumentKinds } from './registry.ts';
export {
  type ChoiceSpec,
  type CountSpec,
  type ListSpec,
  type NumberSpec,
  numberOf,
  numbersOf,
  type RangeSpec,
  type SettingSpec,
  type SettingValue,
  type SettingValues,
  wordOf,
} from './setting-spec.ts';
export { type SettingTrees, treeOf } from './setting-trees.ts';
export type { ErrorFamily, SharedErrors } from './shared-errors.ts';
export type { EventsSource, Margin, MotionSource, PointsSource, Source } from './source.ts';
