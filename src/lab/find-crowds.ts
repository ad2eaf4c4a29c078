import type { Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';

/** Most entries of one section, far above any real lab: a stranger's file must not keep the reader busy for minutes. */
const MOST_ENTRIES = 1000;

/** Most effects: each is a bit of a number. */
const MOST_EFFECTS = 30;

/** Most kits: those with instruments of their own are read as labs of their own. */
const MOST_KITS = 60;

/** Most runs that a plan may ask for. */
const MOST_RUNS = 10_000;

/** A problem for each section with more entries than any lab needs. */
export function findCrowds(form: LabForm, document: LabDocument): readonly Problem[] {
  const { model, reduction, plan } = form;
  const counted: readonly (readonly [path: Path, count: number, most?: number])[] = [
    [['quantities'], sizeOf(form.quantities)],
    [['where'], sizeOf(form.where)],
    [['effects'], sizeOf(form.effects), MOST_EFFECTS],
    [['model', 'rates'], sizeOf(model?.rates)],
    [['instruments'], sizeOf(form.instruments)],
    [['reduction', 'each run'], reduction?.['each run']?.length ?? 0],
    [['reduction', 'across runs'], reduction?.['across runs']?.length ?? 0],
    [['derivation'], form.derivation?.length ?? 0],
    [['results'], sizeOf(form.results)],
    [['kits'], sizeOf(form.kits), MOST_KITS],
    [['stations'], sizeOf(form.stations)],
    [['slips'], sizeOf(form.slips)],
  ];
  const crowds = counted.flatMap(([path, count, most = MOST_ENTRIES]) =>
    count <= most
      ? []
      : [
          problem(
            'too-many-entries',
            document.placeOfKey(path),
            `"${String(path[path.length - 1])}" has ${count} entries; a lab has at most ${most}.`,
          ),
        ],
  );
  const groups = Object.values(plan?.settings ?? {}).reduce((product, values) => product * values.length, 1);
  const runs = groups * (plan?.repeats ?? 1);
  if (runs <= MOST_RUNS) return crowds;
  const message = `The plan asks for ${runs} runs; a plan has at most ${MOST_RUNS}.`;
  const place = document.placeOfKey(['plan']);
  return [
    ...crowds,
    problem('plan-too-large', place, message, 'List fewer values, fewer quantities or fewer repeats.'),
  ];
}

function sizeOf(section: Readonly<Record<string, unknown>> | undefined): number {
  return section === undefined ? 0 : Object.keys(section).length;
}
