import type { SettingSpec } from '../../src/instrument/index.ts';
import type { StepSettingSpec } from '../../src/reduction/index.ts';
import { isRecord } from '../bench/plain.ts';
import { asList, asNames, asNumber, asPairs, type EntryForm } from './entry-field.tsx';

/** A setting of an instrument or of a step. */
export type AnySetting = SettingSpec | StepSettingSpec;

/** How a setting is typed: '10 us', '0 N to 50 N', '0.2 m, 0.4 m', 't, x, v', 'A = 1 V, tau = 2 s'. */
export function formOfSetting(spec: AnySetting): EntryForm {
  switch (spec.kind) {
    case 'count':
      return asNumber;
    case 'list':
      return asList;
    case 'range':
      return asRange;
    case 'new names':
      return spec.most > 1 ? asNames : trimmed;
    case 'start values':
    case 'renaming':
      return asPairs;
    default:
      return trimmed;
  }
}

const trimmed: EntryForm = { show: asNumber.show, read: (text) => text.trim() };

const asRange: EntryForm = {
  show: (value) => (isRecord(value) ? `${String(value.from ?? '')} to ${String(value.to ?? '')}`.trim() : ''),
  read(text) {
    const [from = '', to = ''] = text.trim().split(/\s*\bto\b\s*/);
    return { ...(from === '' ? {} : { from }), ...(to === '' ? {} : { to }) };
  },
};
