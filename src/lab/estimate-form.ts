import { sayDimension } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Estimate, Magnitude, Unit } from '../quantity/index.ts';
import {
  combineUncertainties,
  exactly,
  normalGravity,
  parseMagnitude,
  parseUnit,
  sameDimension,
  withExpanded,
  withinLimits,
  withReading,
  withStandardUncertainty,
} from '../quantity/index.ts';
import { checkSize } from './check-size.ts';
import type { LabDocument, Path } from './document.ts';
import type { QuantityForm } from './form.ts';
import { readObserved } from './observed-form.ts';
import type { WrittenEstimate } from './written-estimate.ts';

/**
 * How far the real gravity of a place lies from normal gravity: regional anomalies reach some tens of milligal.
 * 5e-4 m/s² (50 mGal) as standard uncertainty is common practice, no source.
 */
const GRAVITY_ANOMALY = 5e-4;

/** Heights in m between which people work: the deepest mines lie within, and so do mountains and balloons. */
const LOWEST = -12_000;
const HIGHEST = 50_000;

/** What could be read of a quantity, and what could not. */
export interface EstimateReading {
  /** Null where not even the dimension is known. */
  readonly written: WrittenEstimate | null;
  readonly problems: readonly Problem[];
}

/**
 * Reads value and uncertainty of one quantity.
 *
 * @param form the entry; exactly one of value, observed, at is there
 * @returns the estimate in SI; several stated uncertainties combine by the root of the sum of squares
 * (JCGM 100, 5.1.2), a quantity without any is taken as exact
 */
export function readEstimate(name: string, form: QuantityForm, document: LabDocument): EstimateReading {
  const path: Path = ['quantities', name];
  const centre = readCentre(name, form, document);
  if (!centre.ok) return { written: null, problems: centre.problems };
  const { estimate, unit, from } = centre.value;
  const parts: Estimate[] = estimate.standardUncertainty > 0 ? [estimate] : [];
  const problems: Problem[] = [];
  let isDimensionDoubtful = false;
  const add = (
    key: Path,
    written: string | number,
    make: (size: number) => Estimate,
    into: Estimate[] = parts,
  ): void => {
    const size = readSize(name, unit, written, [...path, ...key], document);
    if (size.ok) {
      into.push(make(size.value));
      return;
    }
    // Several uncertainties may show that the value lacks its unit; once is enough.
    problems.push(...size.problems.filter((found) => !problems.some((told) => isSame(told, found))));
    isDimensionDoubtful ||= size.problems.some(({ code }) => doubtfulDimension.has(code));
  };
  const { value } = estimate;
  if (form.u !== undefined) add(['u'], form.u, (u) => withStandardUncertainty(value, u, form.dof));
  if (form.within !== undefined) add(['within'], form.within, (limit) => withinLimits(value, limit));
  if (form.reading !== undefined) add(['reading'], form.reading, (division) => withReading(value, division));
  if (form.expanded !== undefined) {
    const { U, k } = form.expanded;
    add(['expanded', 'U'], U, (expanded) => withExpanded(value, expanded, k));
  }
  const ofRun: Estimate[] = [];
  const { u, within, reading } = form['each run'] ?? {};
  if (u !== undefined) add(['each run', 'u'], u, (size) => withStandardUncertainty(0, size), ofRun);
  if (within !== undefined) add(['each run', 'within'], within, (size) => withinLimits(0, size), ofRun);
  if (reading !== undefined) add(['each run', 'reading'], reading, (size) => withReading(0, size), ofRun);
  if (form['each run'] !== undefined && u === undefined && within === undefined && reading === undefined) {
    problems.push(
      problem(
        'no-uncertainty',
        document.placeOfKey([...path, 'each run']),
        `"each run" of ${name} does not say how far runs differ.`,
        'Give "u", "within" or "reading".',
      ),
    );
  }
  if (form.dof !== undefined && form.u === undefined) {
    problems.push(
      problem(
        'dof-without-u',
        document.placeOfKey([...path, 'dof']),
        `${name} has "dof" but no "u" that it belongs to.`,
      ),
    );
  }
  if (problems.length > 0) {
    return { written: isDimensionDoubtful ? null : { ...centre.value, estimate }, problems };
  }
  const [first] = parts;
  const combined =
    first === undefined ? exactly(value) : parts.length === 1 ? first : combineUncertainties(value, parts);
  const eachRun = ofRun.length === 0 ? null : combineUncertainties(0, ofRun);
  return { written: { estimate: combined, eachRun, unit, from }, problems };
}

/** Where value and uncertainty disagree, nobody knows which of them has the right dimension. */
const doubtfulDimension: ReadonlySet<string> = new Set(['value-without-unit', 'wrong-dimension']);

function isSame(one: Problem, other: Problem): boolean {
  return (
    one.code === other.code && one.place.line === other.place.line && one.place.column === other.place.column
  );
}

function readCentre(name: string, form: QuantityForm, document: LabDocument): Outcome<WrittenEstimate> {
  const path: Path = ['quantities', name];
  if (form.observed !== undefined) return readObserved(name, form.observed, document);
  if (form.at !== undefined) {
    const latitude = parseMagnitude(
      String(form.at.latitude),
      'interval',
      document.originOf([...path, 'at', 'latitude']),
    );
    const height = parseMagnitude(
      String(form.at.height ?? '0 m'),
      'interval',
      document.originOf([...path, 'at', 'height']),
    );
    const gravityUnit = parseUnit('m/s^2');
    if (!latitude.ok) return latitude;
    if (!height.ok) return height;
    if (!gravityUnit.ok) return gravityUnit;
    // A bare number is a latitude in degrees, as atlases print it.
    const radians =
      latitude.value.unit.angle === 0 ? (latitude.value.value * Math.PI) / 180 : latitude.value.value;
    if (Math.abs(radians) > Math.PI / 2) {
      return fail(
        problem(
          'latitude-out-of-range',
          document.placeOf([...path, 'at', 'latitude']),
          `The latitude ${String(form.at.latitude)} is not on the Earth; it lies between −90 and 90 degrees.`,
        ),
      );
    }
    if (!isLengthInMetres(height.value)) {
      return fail(
        problem(
          'wrong-dimension',
          document.placeOf([...path, 'at', 'height']),
          `The height "${String(form.at.height)}" ${sayDimension(height.value.unit.dimension)}; a height is a length, such as 40 m.`,
        ),
      );
    }
    if (!(height.value.value > LOWEST && height.value.value < HIGHEST)) {
      return fail(
        problem(
          'height-out-of-range',
          document.placeOf([...path, 'at', 'height']),
          `The height ${String(form.at.height)} is not on the Earth; it lies between ${LOWEST} m and ${HIGHEST} m.`,
        ),
      );
    }
    const estimate = withStandardUncertainty(normalGravity(radians, height.value.value), GRAVITY_ANOMALY);
    return succeed({
      estimate,
      eachRun: null,
      unit: gravityUnit.value,
      from: 'normal gravity at the place (WGS 84)',
    });
  }
  const magnitude = parseMagnitude(String(form.value), 'point', document.originOf([...path, 'value']));
  if (!magnitude.ok) return magnitude;
  const place = document.placeOf([...path, 'value']);
  const bad = checkSize(magnitude.value.value, form.value ?? '', `the value of ${name}`, place);
  if (bad !== null) return fail(bad);
  return succeed({
    estimate: exactly(magnitude.value.value),
    eachRun: null,
    unit: magnitude.value.unit,
    from: '',
  });
}

function isLengthInMetres(magnitude: Magnitude): boolean {
  const metre = parseUnit('m');
  return metre.ok && sameDimension(magnitude.unit.dimension, metre.value.dimension);
}

/** An uncertainty as written: an interval of the quantity's own dimension, positive; percent is a share of nothing here. */
function readSize(
  name: string,
  unit: Unit,
  written: string | number,
  path: Path,
  document: LabDocument,
): Outcome<number> {
  const size = parseMagnitude(String(written), 'interval', document.originOf(path));
  if (!size.ok) return size;
  const key = path[path.length - 1];
  if (!sameDimension(size.value.unit.dimension, unit.dimension)) {
    return fail(unlikeSize(name, String(key), written, size.value.unit, unit, path, document));
  }
  const bad = checkSize(size.value.value, written, `"${String(key)}" of ${name}`, document.placeOf(path));
  if (bad !== null) return fail(bad);
  if (!(size.value.value > 0)) {
    return fail(
      problem(
        'uncertainty-not-positive',
        document.placeOf(path),
        `"${String(key)}" of ${name} is ${String(written)}; an uncertainty is above 0. Leave it out where none is known.`,
      ),
    );
  }
  return succeed(size.value.value);
}

/** An uncertainty of another dimension than the value; most often one of the two lacks its unit. */
function unlikeSize(
  name: string,
  key: string,
  written: string | number,
  sizeUnit: Unit,
  valueUnit: Unit,
  path: Path,
  document: LabDocument,
): Problem {
  if (valueUnit.text === '') {
    return problem(
      'value-without-unit',
      document.placeOf(['quantities', name, 'value']),
      `The value of ${name} has no unit, but its "${key}" is in ${sizeUnit.text}.`,
      'Write the unit behind the value.',
    );
  }
  if (sizeUnit.text === '') {
    return problem(
      'missing-unit',
      document.placeOf(path),
      `"${key}" of ${name} is ${String(written)}, without a unit.`,
      `Its value is in ${valueUnit.text}: "${String(written)} ${valueUnit.text}"?`,
    );
  }
  return problem(
    'wrong-dimension',
    document.placeOf(path),
    `"${key}" of ${name} ${sayDimension(sizeUnit.dimension)}, its value ${sayDimension(valueUnit.dimension)}.`,
    `Write it in ${valueUnit.text} or another unit of that dimension.`,
  );
}
