import { evolve } from '../../src/evolve/index.ts';
import {
  type Figure,
  fitFigure,
  ledgerFigure,
  overlayFigure,
  overlayOfFit,
  rehearsalFigure,
  schematicFigure,
  settingFigure,
  stepsFigure,
  validityFigure,
  type Wording,
} from '../../src/figure/index.ts';
import { mainGroup, plannedGroups } from '../../src/run/index.ts';
import { fallingPipeline } from './falling-lab.ts';
import { fitReport, gapLedger, goodOf, labResult, rehearsedOutput, stepperTables } from './results.ts';

export const ENGLISH: Wording = { language: 'en', decimalMark: '.' };
export const GERMAN: Wording = { language: 'de', decimalMark: ',' };

/** One figure of every kind, by its name. */
export function allFigures(wording: Wording): ReadonlyMap<string, Figure> {
  const pipeline = fallingPipeline();
  const { lab } = pipeline;
  const { model } = lab;
  if (model.kind !== 'motion') throw new Error('the lab has a motion');
  const motion = goodOf(evolve(model.model, pipeline.values(pipeline.nominal)));
  const groups = plannedGroups(lab);
  const [result] = lab.results;
  if (result === undefined) throw new Error('the lab has a result');
  const ledgers = groups.map(({ label }, index) => {
    const value = 9.2 + 0.2 * index;
    return gapLedger({
      result,
      group: label,
      full: { value, standardUncertainty: 0.05 },
      measured: {
        value: value + 0.03,
        standardUncertainty: 0.04,
        n: 2,
        fromScatter: 0.04,
        fromQuantities: 0,
        interval: null,
      },
    });
  });
  if (mainGroup(groups) !== 1) throw new Error('the second group is the lab as given');
  const measured = fitReport();
  const full = fitReport({ scatter: 0, slope: 2.22, count: 40 });
  const ideal = fitReport({ scatter: 0, slope: 2.3, count: 40 });
  const noBars = { ux: null, uy: null };
  return new Map<string, Figure>([
    ['fit', fitFigure(measured, wording)],
    [
      'overlay',
      overlayFigure(
        { x: measured.x, y: measured.y },
        [
          overlayOfFit('measured', measured),
          { ...overlayOfFit('full', full), ...noBars },
          { ...overlayOfFit('ideal', ideal), ...noBars },
        ],
        wording,
      ),
    ],
    ['ledger', ledgerFigure(gapLedger(), wording)],
    [
      'rehearsal',
      rehearsalFigure(
        rehearsedOutput(),
        { theory: 2.2664, ideal: 2.266, full: 2.2227, group: 'L = 1.2 m' },
        wording,
      ),
    ],
    ['steps', stepsFigure(stepperTables(), labResult(), 0.0052, wording)],
    ['validity', validityFigure(motion, model.model, wording)],
    ['setting', goodOf(settingFigure(pipeline, result, groups, ledgers, wording))],
    ['schematic', schematicFigure(lab, wording, { signals: new Map([['speed sensor', 'v']]) })],
  ]);
}
