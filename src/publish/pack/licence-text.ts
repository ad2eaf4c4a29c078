import { cleanText } from '../writing/index.ts';
import type { PackedLab } from './packed-lab.ts';

/** Where the full text of common open licences stands. */
const ADDRESSES: Readonly<Record<string, string>> = {
  'CC-BY-4.0': 'https://creativecommons.org/licenses/by/4.0/legalcode',
  'CC-BY-SA-4.0': 'https://creativecommons.org/licenses/by-sa/4.0/legalcode',
  'CC0-1.0': 'https://creativecommons.org/publicdomain/zero/1.0/legalcode',
  MIT: 'https://opensource.org/license/mit',
};

/** A short note of the licence; a lab that brings the full text as a file keeps that. */
export function licenceText({ title, licence }: Pick<PackedLab, 'title' | 'licence'>): string {
  const address = Object.hasOwn(ADDRESSES, licence) ? ADDRESSES[licence] : undefined;
  return [
    cleanText(title),
    '',
    licence === ''
      ? 'The lab file names no licence: all rights stay with its developers.'
      : `Texts, figures, data and the lab file are licensed under ${cleanText(licence)}.`,
    ...(address === undefined ? [] : [`The full text: ${address}`]),
    '',
    'The fonts within the documents are under the SIL Open Font License 1.1, https://openfontlicense.org',
    '',
  ].join('\n');
}
