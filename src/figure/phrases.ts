import type { Stepper } from '../evolve/index.ts';
import type { Verdict } from '../reconcile/index.ts';
import type { RichText } from './rich-text.ts';

/** Which readings bear bars of uncertainty. */
export type Bars = 'none' | 'up' | 'across' | 'both';

/** How a series goes from its first to its last value in x. */
export type Trend = 'rising' | 'falling' | 'varying' | 'level';

/**
 * Every fixed phrase of the figures in one language. Numbers, symbols and names arrive as text that is ready to print.
 *
 * Short phrases are for legends and axes; those named `say…` are whole sentences of the alternative text.
 */
export interface Phrases {
  readonly measured: string;
  readonly full: string;
  readonly ideal: string;
  readonly theory: string;
  readonly residual: string;
  readonly line: string;
  readonly fittedCurve: string;
  readonly remainder: string;
  readonly rehearsals: string;
  readonly central95: string;
  readonly step: string;
  readonly tenthOfUncertainty: string;
  readonly steppers: Readonly<Record<Stepper, string>>;
  readonly phenomenon: string;
  readonly reduction: string;
  readonly results: string;
  readonly states: string;
  readonly quantities: string;
  readonly effects: string;
  readonly readings: string;
  /** Under a schematic. */
  readonly schematicNote: string;
  /** Said where not every value is drawn. */
  readonly thinned: string;
  /** In the legend, where bars or a band show one standard uncertainty. */
  plusMinusUncertainty(name: string): string;
  /** Head of a table's column of uncertainties. */
  standardUncertaintyOf(quantity: string): string;
  readonly from: string;
  readonly to: string;
  readonly count: string;
  readonly row: string;
  against(y: string, x: string): string;
  /** On an axis and in a title. */
  errorOf(result: RichText): RichText;
  /** The condition does not hold from here on. */
  failing(condition: string): string;
  settingTitle(result: string, setting: string): string;
  ledgerTitle(result: string): string;
  rehearsalTitle(result: string): string;
  stepsTitle(result: string): string;
  validityTitle(state: string): string;
  schematicTitle(lab: string): string;
  kitsTitle(result: string): string;
  /** The lab with its own equipment. */
  readonly asGiven: string;
  mapTitle(about: { measure: string; first: string; second: string | null }): string;
  more(count: number): string;
  readonly verdicts: Readonly<Record<Verdict, string>>;

  sayPoints(about: { count: number; name: string; y: string; x: string; bars: Bars }): string;
  saySeries(about: { name: string; y: string; x: string }): string;
  sayRange(about: {
    y: string;
    fromY: string;
    toY: string;
    trend: Trend;
    x: string;
    fromX: string;
    toX: string;
  }): string;
  sayNothing(): string;
  sayParameters(parameters: readonly { name: string; value: string }[]): string;
  sayResiduals(within: string): string;
  sayDifference(about: { name: string; reference: string; low: string; high: string }): string;
  sayLevel(about: { name: string; value: string }): string;
  sayEffects(about: { result: string; effects: readonly { name: string; change: string }[] }): string;
  sayShifts(about: { result: string; steps: readonly { name: string; change: string }[] }): string;
  sayRemainder(about: { value: string; inUncertainties: string | null; verdict: Verdict }): string;
  sayHistogram(about: {
    count: number;
    result: string;
    mean: string;
    spread: string;
    low: string;
    high: string;
  }): string;
  sayStepper(about: {
    name: string;
    atSmallest: string;
    smallest: string;
    atLargest: string;
    largest: string;
  }): string;
  sayGoodStep(about: { name: string; step: string | null }): string;
  sayKit(about: { kit: string; result: string; expected: string; theory: string | null }): string;
  sayMap(about: {
    measure: string;
    least: string;
    atLeast: string;
    greatest: string;
    atGreatest: string;
  }): string;
  sayHolds(condition: string): string;
  sayFails(about: { condition: string; at: string; state: string }): string;
  sayBlocks(blocks: readonly { heading: string; lines: readonly string[] }[]): string;
}
