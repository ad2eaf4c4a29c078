import type { PlainValue } from './lab-edit.ts';

/** Data that were read, with their type; what is no plain data becomes null. */
export function asPlain(value: unknown): PlainValue {
  if (value === null || typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean')
    return value;
  if (Array.isArray(value)) return value.map(asPlain);
  if (typeof value !== 'object') return null;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, asPlain(inner)]));
}
