import { parseDocument } from 'yaml';
import { asPlain } from './as-plain.ts';
import type { PlainValue } from './lab-edit.ts';

/** The data of a text as far as it can be read; null where nothing of it can. */
export function readTolerantly(text: string): PlainValue {
  try {
    const options = { prettyErrors: false, stringKeys: true, schema: 'core', logLevel: 'silent' } as const;
    return asPlain(parseDocument(text, options).toJS({ maxAliasCount: 100 }));
  } catch {
    return null;
  }
}
