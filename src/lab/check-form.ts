import type * as z from 'zod';
import type { Problem } from '../problem/index.ts';
import { nearestName, problem } from '../problem/index.ts';
import type { LabDocument, Path } from './document.ts';
import { type LabForm, labForm } from './form.ts';
import { type Misfit, mendData } from './mend-form.ts';

/** The data of a lab file in its form, as far as they fit it. */
export interface CheckedForm {
  /** Null where so much does not fit that nothing of it can be used. */
  readonly form: LabForm | null;
  /** A problem for each key or value that does not fit. */
  readonly problems: readonly Problem[];
  /** Sections, and quantities behind 'quantities.', that were left out because they do not fit. */
  readonly damaged: ReadonlySet<string>;
}

/** Checks that a document has the form of a lab file: known keys, and the kind of value that each holds. */
export function checkForm(document: LabDocument): CheckedForm {
  const parsed = labForm.safeParse(document.data);
  if (parsed.success) return { form: parsed.data, problems: [], damaged: new Set() };
  const findings = parsed.error.issues.flatMap((issue) => describeIssue(issue, document));
  const { data, damaged } = mendData(document, findings);
  const mended = labForm.safeParse(data);
  return {
    form: mended.success ? mended.data : null,
    problems: findings.map(({ found }) => found),
    damaged,
  };
}

type Issue = z.core.$ZodIssue;

interface Finding extends Misfit {
  readonly found: Problem;
}

function describeIssue(issue: Issue, document: LabDocument): Finding[] {
  const path = issue.path.filter((part) => typeof part !== 'symbol');
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => unknownKey(document, path, key));
  }
  const found = valueAt(document.data, path);
  if (found === undefined) {
    const message = `${owner(path)} has no "${nameOf(path)}"; ${expectation(issue)} must stand there.`;
    return [{ path, found: problem('missing-key', document.placeOf(path.slice(0, -1)), message) }];
  }
  const name = path.length === 0 ? 'The lab file' : `"${nameOf(path)}"`;
  const message = `${name} is ${describeValue(found)}; ${expectation(issue)} must stand there.`;
  // An empty value stands nowhere; its key does.
  const place =
    found === null && typeof path.at(-1) === 'string' ? document.placeOfKey(path) : document.placeOf(path);
  return [{ path, found: problem('wrong-form', place, message) }];
}

function unknownKey(document: LabDocument, path: Path, key: string): Finding {
  const known = keysOfFormAt(path);
  const near = nearestName(key, known);
  const inside = path.length === 0 ? 'here' : `in "${nameOf(path)}"`;
  const advice =
    near !== undefined
      ? `Did you mean "${near}"?`
      : known.length > 0
        ? `Keys that may stand there: ${known.join(', ')}.`
        : undefined;
  const own = [...path, key];
  return {
    path: own,
    ...(near === undefined ? {} : { meant: near }),
    found: problem('unknown-key', document.placeOfKey(own), `"${key}" is not a key ${inside}.`, advice),
  };
}

/** The keys that the form knows at a path, found by walking the form beside the path. */
function keysOfFormAt(path: Path): string[] {
  let schema: z.core.$ZodType = labForm;
  for (const part of path) {
    const next = stepInto(schema, part);
    if (next === undefined) return [];
    schema = next;
  }
  const inner = unwrap(schema)._zod.def;
  return isObjectDefinition(inner) ? Object.keys(inner.shape) : [];
}

function stepInto(schema: z.core.$ZodType, part: string | number): z.core.$ZodType | undefined {
  const definition = unwrap(schema)._zod.def;
  if (isObjectDefinition(definition)) return definition.shape[part] ?? definition.catchall;
  if (isRecordDefinition(definition)) return definition.valueType;
  if (isArrayDefinition(definition)) return definition.element;
  return undefined;
}

function unwrap(schema: z.core.$ZodType): z.core.$ZodType {
  const definition = schema._zod.def;
  return isOptionalDefinition(definition) ? unwrap(definition.innerType) : schema;
}

type Definition = z.core.$ZodTypeDef;

function isObjectDefinition(definition: Definition): definition is z.core.$ZodObjectDef {
  return definition.type === 'object';
}

function isRecordDefinition(definition: Definition): definition is z.core.$ZodRecordDef {
  return definition.type === 'record';
}

function isArrayDefinition(definition: Definition): definition is z.core.$ZodArrayDef {
  return definition.type === 'array';
}

function isOptionalDefinition(definition: Definition): definition is z.core.$ZodOptionalDef {
  return definition.type === 'optional';
}

function expectation(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return kindInWords(issue.expected);
    case 'invalid_union':
      return choiceInWords(issue.errors);
    case 'invalid_value':
      return issue.values.length === 1
        ? String(issue.values[0])
        : `one of ${issue.values.map(String).join(', ')}`;
    case 'too_small':
      return issue.origin === 'array'
        ? `at least ${countEntries(issue.minimum)}`
        : `a number above ${issue.minimum}`;
    case 'too_big':
      return issue.origin === 'array'
        ? `at most ${countEntries(issue.maximum)}`
        : `a number below ${issue.maximum}`;
    default:
      return 'another kind of value';
  }
}

function countEntries(count: number | bigint): string {
  return `${count} ${Number(count) === 1 ? 'entry' : 'entries'}`;
}

/** The kinds that the branches of a choice ask for at its own place. */
function choiceInWords(branches: readonly (readonly Issue[])[]): string {
  const kinds = branches.flatMap((issues) =>
    issues.flatMap((issue) =>
      issue.code === 'invalid_type' && issue.path.length === 0 ? [issue.expected] : [],
    ),
  );
  if (kinds.length === 2 && kinds.includes('number') && kinds.includes('string')) {
    return 'a number with its unit, a plain number or an expression';
  }
  return kinds.map(kindInWords).join(' or ');
}

const KINDS: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  array: 'a list',
  object: 'a map of keys and values',
  record: 'a map of keys and values',
  boolean: 'true or false',
};

function kindInWords(kind: string): string {
  return KINDS[kind] ?? kind;
}

function describeValue(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a map';
  if (typeof value === 'string') return `the text "${value.length > 40 ? `${value.slice(0, 40)}…` : value}"`;
  if (typeof value === 'number')
    return Number.isFinite(value) ? `the number ${value}` : 'not a finite number';
  return `the value ${String(value)}`;
}

function owner(path: Path): string {
  return path.length <= 1 ? 'The lab file' : `"${nameOf(path.slice(0, -1))}"`;
}

function nameOf(path: Path): string {
  const last = path[path.length - 1];
  if (typeof last === 'number') return `${String(path[path.length - 2] ?? 'list')}, entry ${last + 1}`;
  return last ?? 'the file';
}

function valueAt(data: unknown, path: Path): unknown {
  let value = data;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part)) return undefined;
    value = Reflect.get(value, part);
  }
  return value;
}
