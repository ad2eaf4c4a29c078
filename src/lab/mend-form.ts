import type { LabDocument, Path } from './document.ts';

/**
 * What is left of a lab file's data when the parts that do not fit its form are taken out, and which parts those were.
 *
 * Reading goes on with the rest, so that all that is wrong is told at once. `damaged` holds names of sections
 * ('model'), and of single quantities behind 'quantities.'; what needs them is not read, for nothing true could be
 * said of it.
 */
export interface MendedData {
  readonly data: unknown;
  readonly damaged: ReadonlySet<string>;
}

/** One place where the data do not fit. */
export interface Misfit {
  /** The keys that lead to the part that does not fit; it may not be there at all. */
  readonly path: Path;
  /** The known key that an unknown one seems to mean. */
  readonly meant?: string;
}

type Data = Record<string, unknown>;

/** Takes out what does not fit. */
export function mendData(document: LabDocument, misfits: readonly Misfit[]): MendedData {
  const { data } = document;
  if (!isRecord(data)) return { data, damaged: new Set() };
  const mended: Data = { ...data };
  const damaged = new Set<string>();
  for (const { path, meant } of misfits) {
    const [section, entry] = path;
    if (typeof section !== 'string') continue;
    if (meant !== undefined && path.length === 1) damaged.add(meant);
    if (section === 'benchwright') mended[section] = 1;
    else if (section === 'title') mended[section] = '';
    else if (section === 'quantities') mendQuantities(mended, entry, damaged);
    else {
      // An unknown key at the top is in nobody's way once it is out.
      delete mended[section];
      damaged.add(section);
    }
  }
  return { data: mended, damaged };
}

function mendQuantities(mended: Data, entry: string | number | undefined, damaged: Set<string>): void {
  const { quantities } = mended;
  if (entry === undefined || !isRecord(quantities)) {
    mended.quantities = {};
    damaged.add('quantities');
    return;
  }
  mended.quantities = { ...quantities, [entry]: {} };
  damaged.add(`quantities.${entry}`);
}

function isRecord(value: unknown): value is Data {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
