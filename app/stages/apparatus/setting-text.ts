import type { PlainValue } from '../../../src/edit/index.ts';
import type { SettingSpec } from '../../../src/instrument/index.ts';
import { isRecord } from '../../bench/plain.ts';

/** A setting as a field shows it: '10 us', '0 N to 50 N', '0.2 m, 0.4 m'. */
export function readSettingText(spec: SettingSpec, value: unknown): string {
  if (value === undefined || value === null) return '';
  if (spec.kind === 'range' && isRecord(value))
    return `${String(value.from ?? '')} to ${String(value.to ?? '')}`.trim();
  if (spec.kind === 'list' && Array.isArray(value)) return value.map(String).join(', ');
  return typeof value === 'string' || typeof value === 'number' ? String(value) : JSON.stringify(value);
}

/** What the lab file has for the text of a field. */
export function writeSettingText(spec: SettingSpec, text: string): PlainValue {
  const trimmed = text.trim();
  switch (spec.kind) {
    case 'count':
      return /^\d+$/.test(trimmed) ? Number(trimmed) : trimmed;
    case 'range': {
      const [from = '', to = ''] = trimmed.split(/\s*\bto\b\s*/);
      return { ...(from === '' ? {} : { from }), ...(to === '' ? {} : { to }) };
    }
    case 'list':
      return trimmed.split(/[,;]\s+|;/).map((one) => one.trim());
    default:
      return trimmed;
  }
}
