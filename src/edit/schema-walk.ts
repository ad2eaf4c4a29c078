import { labJsonSchema } from '../lab/index.ts';
import { dataAt } from './data-at.ts';
import type { EditPlace, PlainValue } from './lab-edit.ts';

/** A part of the schema of the lab file. */
export type SchemaPart = { readonly [key: string]: unknown };

/** A key that may stand somewhere, with what it says. */
export interface KnownKey {
  readonly name: string;
  readonly what: string;
  readonly isRequired: boolean;
}

let whole: SchemaPart | undefined;

/** The schema, made once. */
function schema(): SchemaPart {
  whole ??= labJsonSchema();
  return whole;
}

/** What the schema says of a place; what stands there decides between alternatives. Undefined where it says nothing. */
export function schemaAt(data: PlainValue, at: EditPlace): SchemaPart | undefined {
  let part: SchemaPart | undefined = schema();
  for (const [index, key] of at.entries()) {
    if (part === undefined) return undefined;
    const there = dataAt(data, at.slice(0, index));
    part = step(choose(part, there, key), key);
  }
  return part === undefined ? undefined : choose(part, dataAt(data, at), undefined);
}

/** The keys that may stand in a map. */
export function keysAt(data: PlainValue, at: EditPlace): readonly KnownKey[] {
  const part = schemaAt(data, at);
  if (part === undefined) return [];
  const alternatives = alternativesOf(part);
  const parts = partOf(part, 'properties') === undefined ? alternatives : [part];
  return parts.flatMap((one) => {
    const required = Array.isArray(one.required) ? one.required : [];
    return Object.entries(partOf(one, 'properties') ?? {}).map(([name, value]) => ({
      name,
      // A step has one key, its name; what it does is said of the step.
      what: descriptionOf(isPart(value) ? value : {}) || (parts.length > 1 ? descriptionOf(one) : ''),
      isRequired: required.includes(name),
    }));
  });
}

/** Words that a value may be. */
export function choicesAt(data: PlainValue, at: EditPlace): readonly string[] {
  const last = at[at.length - 1];
  const above = schemaAt(data, at.slice(0, -1));
  // The kind of an instrument decides which alternative holds, so before it is written every one does.
  const parts = above === undefined ? [] : [above, ...alternativesOf(above)];
  const values = parts.flatMap((part) => {
    const own = last === undefined ? undefined : step(part, last);
    if (own === undefined) return [];
    if (typeof own.const === 'string') return [own.const];
    return Array.isArray(own.enum) ? own.enum.filter((value) => typeof value === 'string') : [];
  });
  return [...new Set(values)];
}

export function descriptionOf(part: SchemaPart | undefined): string {
  return typeof part?.description === 'string' ? part.description : '';
}

function step(part: SchemaPart, key: string | number): SchemaPart | undefined {
  if (typeof key === 'number') return partOf(part, 'items');
  const properties = partOf(part, 'properties');
  const own = properties?.[key];
  return isPart(own) ? own : partOf(part, 'additionalProperties');
}

/** Of several alternatives the one that fits the kind, or has the key. */
function choose(
  part: SchemaPart,
  there: PlainValue | undefined,
  key: string | number | undefined,
): SchemaPart {
  const alternatives = alternativesOf(part);
  if (alternatives.length === 0) return part;
  const kind = there === undefined ? undefined : dataAt(there, ['kind']);
  const byKind = alternatives.find((one) => {
    const own = partOf(partOf(one, 'properties') ?? {}, 'kind')?.const;
    return own !== undefined && own === kind;
  });
  if (byKind !== undefined) return byKind;
  const fits = (one: SchemaPart): boolean =>
    key === undefined
      ? false
      : typeof key === 'number'
        ? one.items !== undefined
        : step(one, key) !== undefined;
  const named = alternatives.find(
    (one) => typeof key === 'string' && isPart(partOf(one, 'properties')?.[key]),
  );
  return named ?? alternatives.find(fits) ?? part;
}

function alternativesOf(part: SchemaPart): readonly SchemaPart[] {
  const listed = part.oneOf ?? part.anyOf;
  return Array.isArray(listed) ? listed.filter(isPart) : [];
}

function partOf(part: SchemaPart, key: string): SchemaPart | undefined {
  const inner = part[key];
  return isPart(inner) ? inner : undefined;
}

function isPart(value: unknown): value is SchemaPart {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
