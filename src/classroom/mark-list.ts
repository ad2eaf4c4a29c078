import type { Setting } from '../lab/index.ts';
import { type Outcome, type Problem, succeed } from '../problem/index.ts';
import type { ListedReport } from './class-list.ts';
import type { MarkedLine } from './class-list-texts.ts';
import { markReport } from './mark-report.ts';
import type { Marker } from './prepare-marker.ts';

/**
 * Marks a class list line by line; lines that cannot be read are left as they are.
 *
 * @param prepare makes the marker of a station; it is asked once for each station that some line names
 * @returns fails where a marker cannot be prepared
 */
export function markList(
  reports: readonly ListedReport[],
  prepare: (set: readonly Setting[]) => Outcome<Marker>,
): Outcome<readonly MarkedLine[]> {
  const markers = new Map<string, Marker>();
  const warnings: Problem[] = [];
  const lines: MarkedLine[] = [];
  for (const report of reports) {
    if (report.numbers.length === 0) {
      lines.push({ report, marked: null });
      continue;
    }
    const key = report.station.toLowerCase();
    const known = markers.get(key);
    const made = known === undefined ? prepare(report.set) : succeed(known);
    if (!made.ok) return made;
    if (known === undefined) warnings.push(...made.warnings, ...made.value.warnings);
    markers.set(key, made.value);
    const marked = markReport(made.value, report.numbers);
    lines.push({ report, marked: marked.ok ? marked.value : null });
  }
  return succeed(lines, warnings);
}
