import type { LabResult } from '../lab/index.ts';
import { formatDimension } from '../quantity/index.ts';
import type { FitReport } from '../reduction/index.ts';
import { labelSettings, mainGroup, type Rehearsal } from '../run/index.ts';
import type { Gathered } from './gather/index.ts';
import { describeStepwise } from './stepwise/index.ts';
import type { AssessedResult, AssessedStation, DataTable, LineTable, WriterExtras } from './writing/index.ts';

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
    stations: assessedStations(gathered),
  };
}

/** What each station is asked for, with the band of 95 % of groups; the lab as given where it has no stations. */
function assessedStations({ classroom, rehearsal }: Gathered): readonly AssessedStation[] {
  const assessed = ({ result, low, high }: Banded): AssessedResult[] =>
    high > low
      ? [
          {
            name: result.name,
            is: result.is,
            unit: result.unit,
            expected: (low + high) / 2,
            tolerance: (high - low) / 2,
          },
        ]
      : [];
  const stations =
    classroom === null
      ? [{ name: '', set: '', results: ownBands(rehearsal).flatMap(assessed) }]
      : classroom.stations.map(({ station, results }) => ({
          name: station.name,
          set: labelSettings(station.set),
          results: results.flatMap(assessed),
        }));
  return stations.filter(({ results }) => results.length > 0);
}

interface Banded {
  readonly result: LabResult;
  readonly low: number;
  readonly high: number;
}

/** The bands of the lab as given: one a result. */
function ownBands({ groups, outputs }: Rehearsal): readonly Banded[] {
  const main = mainGroup(groups);
  return outputs.flatMap(({ output, low, high }) =>
    output.group === null || output.group === main ? [{ result: output.result, low, high }] : [],
  );
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
