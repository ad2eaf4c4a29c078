import { csvCell } from '../../classroom/index.ts';
import { fromSI } from '../../quantity/index.ts';
import type { GroupWork, Lesson } from './lesson.ts';
import { unitText } from './tell-number.ts';

const HEADINGS = [
  'group',
  'station',
  'entered at (UTC)',
  'result',
  'value',
  'standard uncertainty',
  'unit',
  'as written',
  'how it looks',
  'counts',
  'readings',
  'sha256 of the readings',
];

/** All entries as CSV (RFC 4180), one line a number; what a spreadsheet would take for a formula is text. */
export function lessonCsv({ lab }: Lesson, work: readonly GroupWork[]): string {
  const rows = work.flatMap(({ group, entries, last }) =>
    entries.flatMap(({ at, judged, file }) =>
      judged.map((number) => {
        const unit = lab.results.find(({ name }) => name === number.result)?.unit;
        const own = (si: number, kind: 'point' | 'interval') =>
          unit === undefined ? si : fromSI(si, unit, kind);
        return [
          group.name,
          group.station,
          new Date(at).toISOString(),
          number.result,
          String(Number(own(number.value, 'point').toPrecision(12))),
          number.u === null ? '' : String(Number(own(number.u, 'interval').toPrecision(4))),
          unit === undefined ? 'SI' : unitText(unit),
          number.written,
          number.standing,
          last.get(number.result) === number && !group.aside ? 'yes' : 'no',
          file?.name ?? '',
          file?.sha256 ?? '',
        ];
      }),
    ),
  );
  return `${[HEADINGS, ...rows].map((row) => row.map(csvCell).join(',')).join('\r\n')}\r\n`;
}
