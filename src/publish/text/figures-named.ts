import type { Directives } from 'mdast-util-directive';
import {
  type Figure,
  fitFigure,
  ledgerFigure,
  rehearsalFigure,
  settingFigure,
  stepsFigure,
  validityFigure,
} from '../../figure/index.ts';
import type { LabResult } from '../../lab/index.ts';
import { groupRuns } from '../../run/index.ts';
import type { Block, Inlines } from '../document/index.ts';
import { type Desk, draftSchematic } from '../draft/index.ts';
import { attributesOf } from './attributes.ts';
import { type Reading, tell, tellUnknown } from './reading.ts';

/** Makes a figure; a sentence says why there is none. */
type MakeFigure = (desk: Desk, result: LabResult, run: string | undefined) => Figure | string;

/** Figures by the name that a text asks for them. A new one is a line here. */
const FIGURES: Readonly<Record<string, MakeFigure>> = {
  schematic: (desk) => {
    const block = draftSchematic(desk);
    return block.kind === 'figure' ? block.figure : 'The lab has no schematic.';
  },
  ledger: (desk, result) => {
    const ledger = ledgerOf(desk, result);
    return ledger === undefined
      ? `There is no ledger of ${result.name}.`
      : ledgerFigure(ledger, desk.wording);
  },
  fit: (desk, _result, run) => fitOf(desk, run),
  setting: ({ gathered, wording }, result) => {
    const { pipeline, trials, reconciliation } = gathered;
    const groups = groupRuns(pipeline.lab, trials);
    const made = settingFigure(pipeline, result, groups, reconciliation.ledgers, wording);
    return made.ok ? made.value : (made.problems[0]?.message ?? 'It cannot be drawn.');
  },
  steps: (desk, result) => {
    const tables = desk.gathered.steps.filter((table) => table.result === result.name);
    if (tables.length === 0) return `There is no table of steps for ${result.name}.`;
    const u = ledgerOf(desk, result)?.measured?.standardUncertainty ?? null;
    return stepsFigure(tables, result, u, desk.wording);
  },
  rehearsal: (desk, result) => {
    const rehearsed = desk.gathered.rehearsal.outputs.find(({ output }) => output.result === result);
    if (rehearsed === undefined) return `${result.name} was not rehearsed.`;
    const ledger = ledgerOf(desk, result);
    const marks = {
      theory: ledger?.theory?.value ?? null,
      ideal: ledger?.ideal.value ?? null,
      full: ledger?.full.value ?? null,
      group: ledger?.group ?? null,
    };
    return rehearsalFigure(rehearsed, marks, desk.wording);
  },
  validity: ({ gathered, wording }) => {
    const { pipeline } = gathered;
    const { model } = pipeline.lab;
    const run = pipeline.simulate(pipeline.values(pipeline.nominal));
    if (model.kind !== 'motion' || !run.ok || run.value.motion === null)
      return 'The model has no motion in time.';
    return validityFigure(run.value.motion, model.model, wording);
  },
};

export const FIGURE_NAMES: readonly string[] = Object.keys(FIGURES);

function ledgerOf({ gathered }: Desk, result: LabResult) {
  const { ledgers, main } = gathered.reconciliation;
  return ledgers[main.get(result.name) ?? -1];
}

function fitOf({ gathered, wording }: Desk, name: string | undefined): Figure | string {
  const runs = gathered.reduced?.runs ?? [];
  const run = runs.find(
    ({ trial, fits }) => fits.length > 0 && (name === undefined || trial.entry.name === name),
  );
  const [fit] = run?.fits ?? [];
  if (fit !== undefined) return fitFigure(fit, wording);
  return name === undefined
    ? 'No trial of the lab has a fit.'
    : `No trial with a fit is named "${name}"; there are ${runs.map(({ trial }) => trial.entry.name).join(', ')}.`;
}

/**
 * The figure that `::figure[caption]{of=NAME result=RESULT run=RUN}` stands for.
 *
 * @returns the block, or null where a problem was told
 */
export function figureBlock(desk: Desk, node: Directives, caption: Inlines, reading: Reading): Block | null {
  const attributes = attributesOf(node, ['of', 'result', 'run'], reading);
  if (attributes === null) return null;
  const { of = '', result: named } = attributes;
  const make = Object.hasOwn(FIGURES, of) ? FIGURES[of] : undefined;
  if (make === undefined) {
    const message =
      of === '' ? '"::figure" does not say of what: {of=ledger}.' : `There is no figure of "${of}".`;
    tellUnknown(reading, node, 'unknown-figure', message, of, FIGURE_NAMES);
    return null;
  }
  const { results } = desk.lab;
  const result = named === undefined ? results[0] : results.find(({ name }) => name === named);
  if (result === undefined) {
    const known = results.map(({ name }) => name);
    const message = `"${named ?? ''}" is no result of this lab.`;
    tellUnknown(reading, node, 'unknown-result', message, named ?? '', known);
    return null;
  }
  const figure = make(desk, result, attributes.run);
  if (typeof figure === 'string') {
    tell(reading, node, 'missing-figure', `The figure of "${of}" is not there. ${figure}`);
    return null;
  }
  return { kind: 'figure', figure, caption };
}
