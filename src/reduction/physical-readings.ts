import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import type { RunState } from './state.ts';
import type { InstrumentAtHand } from './step.ts';

/** The physical columns of an instrument in a run; what the inverse has to say becomes notes of the run. */
export function physicalReadings(
  state: RunState,
  name: string,
  instrument: InstrumentAtHand,
  quantities: Float64Array,
): Outcome<readonly Column[]> {
  const readings = state.readings.get(name);
  if (readings === undefined) {
    const place = { step: `reduction, ${state.runName}` };
    return fail(problem('no-readings', place, `there are no readings of "${name}" in this run.`));
  }
  const physical = instrument.kind.physical(readings, instrument.settings(quantities));
  if (!physical.ok) return physical;
  for (const note of physical.warnings) {
    state.notes.push({
      ...note,
      place: { ...note.place, step: `${note.place.step ?? ''}, ${state.runName}` },
    });
  }
  return succeed(physical.value);
}
