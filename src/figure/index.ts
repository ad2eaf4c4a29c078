export { type AxisUnit, axisUnit } from './axis-unit.ts';
export { fitFigure } from './builders/fit.ts';
export { groupOverlays } from './builders/group-overlays.ts';
export { kitsFigure } from './builders/kits.ts';
export { ledgerFigure } from './builders/ledger.ts';
export { measureMapFigure } from './builders/measure-map.ts';
export {
  type OverlayAxes,
  type OverlayRole,
  type OverlaySeries,
  overlayFigure,
  overlayOfColumns,
  overlayOfFit,
} from './builders/overlay.ts';
export { type RehearsalMarks, rehearsalFigure } from './builders/rehearsal.ts';
export { type SchematicOptions, type SchematicPart, schematicFigure } from './builders/schematic.ts';
export { settingFigure } from './builders/setting.ts';
export { stepsFigure } from './builders/steps.ts';
export { type ValidityOptions, validityFigure } from './builders/validity.ts';
export { dataTables, type FigureTable, type TableCell } from './data-table.ts';
export { describeChart } from './describe.ts';
export { expressionText } from './expression-text.ts';
export type {
  AxisRow,
  BandMark,
  BarsMark,
  ChartFigure,
  CurveMark,
  Figure,
  Level,
  LevelsMark,
  Mark,
  NumberAxis,
  Numbers,
  Panel,
  PointsMark,
  RegionMark,
  RowsAxis,
  RuleMark,
  SchematicBlock,
  SchematicFigure,
  SeriesRole,
} from './figure.ts';
export { figureToSvg } from './figure-to-svg.ts';
export { layOut } from './lay-out.ts';
export type { Appearance } from './layout/appearance.ts';
export { levelLine } from './level-lines.ts';
export { measureText } from './measure-text.ts';
export { numberAxis } from './number-axis.ts';
export { type Reading, readAt } from './read-at.ts';
export { fromText, italic, joinText, plainText, type RichText, type Run, upright } from './rich-text.ts';
export { placing, type Scale, valueAt } from './scale.ts';
export type { Box, PlacedPanel, Scene, SceneNode } from './scene.ts';
export { type MarkerShape, type SeriesStyle, seriesStyles } from './series-style.ts';
export { type Size, sizes } from './size.ts';
export { symbolText } from './symbol-text.ts';
export { darkTheme, fontStack, lightTheme, type Theme } from './theme.ts';
export { type SvgOptions, toSvg } from './to-svg.ts';
export type { Language, Wording } from './wording.ts';
export { type View, zoomFigure } from './zoom.ts';
