import { namesIn, number, sayDimension, type Tree } from '../expression/index.ts';
import type {
  InstrumentKind,
  SettingSpec,
  SettingTrees,
  SettingValue,
  SettingValues,
  SignalShape,
} from '../instrument/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Dimension, Kind } from '../quantity/index.ts';
import { sameDimension } from '../quantity/index.ts';
import type { Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { InstrumentDraft } from './instrument-draft.ts';
import { compileOnQuantities, type QuantityValues } from './quantity-function.ts';
import type { Surroundings } from './surroundings.ts';
import { readWrittenValue, type WrittenValue } from './written-value.ts';

/** An instrument of a lab, ready to be pointed at its signals. */
export interface LabInstrument {
  readonly name: string;
  readonly kind: InstrumentKind;
  readonly shape: SignalShape;
  /** For each key of the kind's signals the index of the signal in the model, in the order of `kind.signals`. */
  readonly signals: readonly { readonly key: string; readonly index: number }[];
  /** Settings for given quantities. */
  settings(values: QuantityValues): SettingValues;
  /** The same as expressions of quantities. */
  readonly settingTrees: SettingTrees;
  /** Symbols of the quantities that the settings read. */
  readonly quantitiesRead: ReadonlySet<string>;
  readonly place: Place;
}

/**
 * Reads the settings of one instrument against the kind's own list of them.
 *
 * @param shape dimension of the signal, and of what a relation is read against
 * @param signals indices of its signals in the model
 */
export function readInstrument(
  draft: InstrumentDraft,
  form: NonNullable<LabForm['instruments']>[string],
  shape: SignalShape,
  signals: LabInstrument['signals'],
  around: Surroundings,
): Outcome<LabInstrument> {
  const path: Path = ['instruments', draft.name];
  const problems: Problem[] = [];
  for (const spec of draft.kind.signals) {
    if (spec.name === 'of' && spec.dimension !== 'any' && !sameDimension(spec.dimension, shape.dimension)) {
      problems.push(
        problem(
          'wrong-dimension',
          around.document.placeOf([...path, 'of']),
          `"of" of "${draft.name}" ${sayDimension(shape.dimension)}; ${article(draft.kind.kind)} instrument looks at what ${sayDimension(spec.dimension)}.`,
          spec.what,
        ),
      );
    }
  }
  const known = new Set([
    'kind',
    ...draft.kind.signals.map((spec) => spec.name),
    ...draft.kind.settings.map((spec) => spec.name),
  ]);
  for (const key of Object.keys(form)) {
    if (known.has(key)) continue;
    const near = nearestName(key, known);
    problems.push(
      problem(
        'unknown-key',
        around.document.placeOfKey([...path, key]),
        `"${key}" is not a setting of ${article(draft.kind.kind)} instrument.`,
        near === undefined ? `Its settings are ${[...known].join(', ')}.` : `Did you mean "${near}"?`,
      ),
    );
  }
  const readers: SettingReader[] = [];
  const quantitiesRead = new Set<string>();
  for (const spec of draft.kind.settings) {
    const reader = readSettingOfSpec(spec, form[spec.name], path, shape.dimension, around, quantitiesRead);
    if (!reader.ok) problems.push(...reader.problems);
    else if (reader.value !== null) readers.push(reader.value);
  }
  if (problems.length > 0) return fail(...problems);
  return succeed({
    name: draft.name,
    kind: draft.kind,
    shape,
    signals,
    settings: (values) => new Map(readers.map((reader) => [reader.name, reader.valueAt(values)])),
    settingTrees: new Map(readers.map(({ name, tree }) => [name, tree])),
    quantitiesRead,
    place: around.document.placeOfKey(path),
  });
}

interface SettingReader {
  readonly name: string;
  valueAt(values: QuantityValues): SettingValue;
  readonly tree: Tree | readonly Tree[] | string;
}

interface NumberReader extends SettingReader {
  readonly tree: Tree;
}

function wordReader(name: string, word: string): SettingReader {
  return { name, valueAt: () => word, tree: word };
}

function fixedReader(name: string, value: number): NumberReader {
  return { name, valueAt: () => value, tree: number(value) };
}

function readSettingOfSpec(
  spec: SettingSpec,
  written: unknown,
  path: Path,
  signal: Dimension,
  around: Surroundings,
  quantitiesRead: Set<string>,
): Outcome<SettingReader | null> {
  const place = around.document.placeOf([...path, spec.name]);
  if (written === undefined || written === null) {
    const fallback = 'default' in spec ? spec.default : undefined;
    if (fallback !== undefined) {
      return succeed(
        typeof fallback === 'number' ? fixedReader(spec.name, fallback) : wordReader(spec.name, fallback),
      );
    }
    if (!spec.required) return succeed(null);
    return fail(
      problem(
        'missing-key',
        around.document.placeOfKey(path),
        `The instrument has no "${spec.name}".`,
        spec.what,
      ),
    );
  }
  const numberAt = (
    value: unknown,
    key: Path,
    dimension: Dimension | 'of signal' | 'any',
    as?: Kind,
  ): Outcome<NumberReader> => {
    if (typeof value !== 'string' && typeof value !== 'number') {
      return fail(
        problem(
          'wrong-form',
          around.document.placeOf(key),
          `"${spec.name}" must be a number with its unit, or an expression.`,
        ),
      );
    }
    const expected =
      dimension === 'any'
        ? null
        : {
            dimension: dimension === 'of signal' ? signal : dimension,
            what: `"${spec.name}"`,
          };
    const read = readWrittenValue(value, key, around.document, around.scope, expected, as ?? 'interval');
    if (!read.ok) return read;
    return succeed(readerOf(spec.name, read.value, around, quantitiesRead));
  };
  const own = [...path, spec.name];
  switch (spec.kind) {
    case 'expression': {
      const reader = numberAt(written, own, spec.dimension, spec.as);
      return reader.ok ? checkLimits(reader.value, spec.limits, place, written) : reader;
    }
    case 'count':
      if (typeof written === 'number' && Number.isInteger(written) && written >= spec.least) {
        return succeed(fixedReader(spec.name, written));
      }
      return fail(
        problem(
          'wrong-form',
          place,
          `"${spec.name}" is ${String(written)}; it must be a whole number, at least ${spec.least}.`,
          spec.what,
        ),
      );
    case 'choice':
      if (typeof written === 'string' && spec.options.includes(written)) {
        return succeed(wordReader(spec.name, written));
      }
      return fail(
        problem(
          'wrong-form',
          place,
          `"${spec.name}" is "${String(written)}"; it must be ${spec.options.join(' or ')}.`,
        ),
      );
    case 'list': {
      if (!Array.isArray(written) || written.length < spec.least) {
        return fail(
          problem(
            'wrong-form',
            place,
            `"${spec.name}" must be a list of at least ${spec.least === 1 ? 'one value' : `${spec.least} values`}.`,
            spec.what,
          ),
        );
      }
      return combine(
        spec.name,
        written.map((value, index) => numberAt(value, [...own, index], spec.dimension, spec.as)),
      );
    }
    case 'range': {
      if (typeof written !== 'object' || Array.isArray(written)) {
        return fail(problem('wrong-form', place, `"${spec.name}" must have "from" and "to".`, spec.what));
      }
      const end = (key: 'from' | 'to', open: number): Outcome<NumberReader> => {
        const value: unknown = Reflect.get(written, key);
        return value === undefined
          ? succeed(fixedReader(spec.name, open))
          : numberAt(value, [...own, key], spec.dimension, spec.as);
      };
      return combine(spec.name, [end('from', Number.NEGATIVE_INFINITY), end('to', Number.POSITIVE_INFINITY)]);
    }
  }
}

function readerOf(
  name: string,
  value: WrittenValue,
  around: Surroundings,
  quantitiesRead: Set<string>,
): NumberReader {
  if (value.kind === 'fixed') return fixedReader(name, value.value);
  for (const read of namesIn(value.expression.tree)) quantitiesRead.add(read);
  const evaluate = compileOnQuantities(value.expression, around.quantities, around.tables);
  return { name, valueAt: evaluate, tree: value.expression.tree };
}

function combine(name: string, parts: readonly Outcome<NumberReader>[]): Outcome<SettingReader> {
  const problems = parts.flatMap((part) => (part.ok ? [] : part.problems));
  if (problems.length > 0) return fail(...problems);
  const readers = parts.flatMap((part) => (part.ok ? [part.value] : []));
  return succeed({
    name,
    valueAt: (values) => Float64Array.from(readers, (reader) => Number(reader.valueAt(values))),
    tree: readers.map(({ tree }) => tree),
  });
}

/** Limits of a value that does not depend on quantities are checked at once; others when they are used. */
function checkLimits(
  reader: SettingReader,
  limits: 'positive' | 'not negative' | undefined,
  place: Place,
  written: unknown,
): Outcome<SettingReader> {
  if (limits === undefined) return succeed(reader);
  // Without quantities an expression of them is NaN, which no comparison finds too low.
  const value = reader.valueAt(new Float64Array(0));
  const tooLow = typeof value === 'number' && (limits === 'positive' ? value <= 0 : value < 0);
  if (!tooLow) return succeed(reader);
  return fail(
    problem(
      'out-of-range',
      place,
      `"${reader.name}" is ${String(written)}; it must be ${limits === 'positive' ? 'above 0' : '0 or more'}.`,
    ),
  );
}

function article(kind: string): string {
  return `${/^[aeiou]/.test(kind) ? 'an' : 'a'} ${kind}`;
}
