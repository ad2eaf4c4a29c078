import { formatDimension } from '../quantity/index.ts';
import type { FitReport } from '../reduction/index.ts';
import type { Gathered } from './gather/index.ts';
import { describeStepwise } from './stepwise/index.ts';
import type { DataTable, LineTable, WriterExtras } from './writing/index.ts';

/** The stepper that classes take where they can choose: as plain as the forward one, and far better at oscillations. */
const STEPPER = 'semi-implicit-euler';

/** What the writers of workbooks and programs need besides a document: the model to be stepped, and the data. */
export function gatherExtras(gathered: Gathered): WriterExtras {
  const { pipeline, trials, reduced } = gathered;
  const values = pipeline.values(pipeline.nominal);
  const stepS = goodStep(gathered);
  return {
    stepwise: stepS === null ? null : describeStepwise(pipeline.lab, values, { method: STEPPER, stepS }),
    trials: trials.map(
      ({ entry, table }): DataTable => ({
        name: entry.name,
        file: entry.file,
        columns: table.columns.filter(({ run }) => run === (entry.run ?? 1)),
      }),
    ),
    lines: (reduced?.runs ?? []).flatMap(({ trial, fits }) =>
      fits.filter(({ step }) => step === 'line').map((fit) => lineOf(trial.entry.name, fit)),
    ),
  };
}

/** The largest step whose error is small against the uncertainty, else one in the middle of those tried, s; null for a model without time. */
function goodStep({ steps }: Gathered): number | null {
  const table = steps.find(({ stepper }) => stepper === STEPPER);
  if (table === undefined) return null;
  return table.largestGoodStepS ?? table.rows[Math.floor(table.rows.length / 2)]?.stepS ?? null;
}

function lineOf(name: string, { x, y }: FitReport): LineTable {
  const heading = (axis: FitReport['x']) => {
    const unit = formatDimension(axis.dimension);
    return unit === '1' ? axis.text : `${axis.text} / (${unit})`;
  };
  return { name, x: { heading: heading(x), values: x.values }, y: { heading: heading(y), values: y.values } };
}
