import type { LabDocumentTree } from '../document/index.ts';

/**
 * How the lab is cited, in the Citation File Format, version 1.2.
 *
 * No name of a person is known here: the entity that stands as author is the lab's own title, to be replaced by people.
 *
 * Source: S. Druskat et al. 2021, Citation File Format 1.2.0, doi:10.5281/zenodo.5171937
 */
export function citationFile(tree: LabDocumentTree): string {
  const quote = (text: string): string => JSON.stringify(text);
  return [
    'cff-version: 1.2.0',
    'message: "Cite this lab as below; put the names of its developers where the entity stands."',
    'type: dataset',
    `title: ${quote(tree.title)}`,
    ...(tree.subtitle === '' ? [] : [`abstract: ${quote(tree.subtitle)}`]),
    'authors:',
    `  - name: ${quote(`The developers of "${tree.title}"`)}`,
    ...(/^[A-Za-z0-9.+-]+$/.test(tree.licence) ? [`license: ${tree.licence}`] : []),
    'identifiers:',
    '  - type: other',
    `    value: ${quote(`sha256:${tree.provenance.digest}`)}`,
    '    description: "Digest of the lab file, its texts, its trials and the settings"',
    '',
  ].join('\n');
}
