import { cleanText } from '../writing/index.ts';
import type { PackedLab } from './packed-lab.ts';

/**
 * How the lab is cited, in the Citation File Format, version 1.2.
 *
 * No name of a person is known here: the entity that stands as author is the lab's own title, to be replaced by people.
 *
 * Source: S. Druskat et al. 2021, Citation File Format 1.2.0, doi:10.5281/zenodo.5171937
 */
export function citationFile({ title, about, licence, provenance }: PackedLab): string {
  // A string of JSON is a double-quoted string of YAML.
  const quote = (text: string): string => JSON.stringify(cleanText(text));
  return [
    'cff-version: 1.2.0',
    'message: "Cite this lab as below; put the names of its developers where the entity stands."',
    'type: dataset',
    `title: ${quote(title)}`,
    ...(about === '' ? [] : [`abstract: ${quote(about)}`]),
    'authors:',
    `  - name: ${quote(`The developers of "${title}"`)}`,
    ...(/^[A-Za-z0-9.+-]+$/.test(licence) ? [`license: ${quote(licence)}`] : []),
    'identifiers:',
    '  - type: other',
    `    value: ${quote(`sha256:${provenance.digest}`)}`,
    '    description: "Digest of the lab file, its texts, its trials and the settings"',
    '',
  ].join('\n');
}
