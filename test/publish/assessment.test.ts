import { DOMParser, type Element } from '@xmldom/xmldom';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { writeAssessment } from '../../src/publish/assessment/index.ts';
import { FORMATS } from '../../src/publish/formats.ts';
import { parseUnit } from '../../src/quantity/index.ts';
import { valueFrom } from '../lab/slope-lab.ts';
import { QTI_3 } from '../published/qti-3.ts';
import { sampleTree } from './sample-tree.ts';

const EVIL = 'A & <b> "q" \u0007';
const unit = valueFrom(parseUnit('mm/s'));
const stations = [
  {
    name: EVIL,
    set: 'L = 1.2 m',
    results: [{ name: 'v', is: 'speed', unit, expected: 0.123, tolerance: 0.004 }],
  },
  { name: 'B', set: '', results: [{ name: 'v', is: '', unit, expected: -0.2, tolerance: 0.01 }] },
];

function filesOf(bytes: Uint8Array): ReadonlyMap<string, string> {
  return new Map(Object.entries(unzipSync(bytes)).map(([name, content]) => [name, strFromU8(content)]));
}

function rootOf(text: string | undefined): Element {
  const problems: string[] = [];
  // A sign that no XML holds stands as U+FFFD, of which the parser warns.
  const parser = new DOMParser({
    onError: (level, message) => {
      if (level !== 'warning') problems.push(message);
    },
  });
  const { documentElement } = parser.parseFromString(text ?? '', 'text/xml');
  expect(problems).toEqual([]);
  if (documentElement === null) throw new Error('no root');
  return documentElement;
}

function childrenOf(element: Element): readonly Element[] {
  return Array.from(element.childNodes).filter((node): node is Element => node.nodeType === 1);
}

/** Checks an element against the structure of the standard: known children in their order, needed attributes. */
function check(element: Element): void {
  const form = QTI_3.elements[element.tagName];
  expect(form, element.tagName).toBeDefined();
  if (form === undefined) return;
  for (const name of form.required)
    expect(element.hasAttribute(name), `${element.tagName} ${name}`).toBe(true);
  const allowed = [...form.required, ...form.optional, 'xmlns', 'xmlns:xsi', 'xsi:schemaLocation'];
  for (const { name, value } of Array.from(element.attributes)) {
    expect(allowed, element.tagName).toContain(name);
    const values = form.values?.[name];
    if (values !== undefined) expect(values, `${element.tagName} ${name}`).toContain(value);
  }
  const places = childrenOf(element).map((child) => form.children.indexOf(child.tagName));
  expect(
    places,
    `${element.tagName} holds ${childrenOf(element).map((child) => child.tagName)}`,
  ).not.toContain(-1);
  expect(
    [...places].sort((a, b) => a - b),
    element.tagName,
  ).toEqual(places);
  for (const child of childrenOf(element)) check(child);
}

describe('the answer key as QTI 3', () => {
  const files = filesOf(writeAssessment(sampleTree(), stations));

  it('has a manifest that names every file and nothing else', () => {
    const manifest = rootOf(files.get('imsmanifest.xml'));
    expect(manifest.namespaceURI).toBe(QTI_3.packageNamespace);
    const named = Array.from(manifest.getElementsByTagName('file')).map((file) => file.getAttribute('href'));
    expect(new Set(named)).toEqual(new Set([...files.keys()].filter((name) => name !== 'imsmanifest.xml')));
    const types = Array.from(manifest.getElementsByTagName('resource')).map((one) =>
      one.getAttribute('type'),
    );
    expect(types).toEqual(['imsqti_test_xmlv3p0', 'imsqti_item_xmlv3p0', 'imsqti_item_xmlv3p0']);
  });

  it('has manifest, items and test of the structure that the published schemas ask for', () => {
    for (const [name, text] of files) {
      const root = rootOf(text);
      const isManifest = name === 'imsmanifest.xml';
      expect(root.namespaceURI).toBe(isManifest ? QTI_3.packageNamespace : QTI_3.itemNamespace);
      check(root);
    }
    const manifest = rootOf(files.get('imsmanifest.xml'));
    const textOf = (name: string) => manifest.getElementsByTagName(name)[0]?.textContent;
    expect([textOf('schema'), textOf('schemaversion')]).toEqual(['QTI Package', '3.0.0']);
    // xs:ID and xs:IDREF: each once, and none that leads nowhere.
    const ids = ['manifest', 'resource'].flatMap((tag) =>
      [manifest, ...Array.from(manifest.getElementsByTagName(tag))]
        .filter(({ tagName }) => tagName === tag)
        .map((one) => one.getAttribute('identifier')),
    );
    expect(new Set(ids).size).toBe(ids.length);
    for (const one of Array.from(manifest.getElementsByTagName('dependency')))
      expect(ids).toContain(one.getAttribute('identifierref'));
  });

  it('asks in the unit of the result, and takes what lies within the band', () => {
    const item = rootOf(files.get('items/S1-R1.xml'));
    const [correct] = Array.from(item.getElementsByTagName('qti-value'));
    const [equal] = Array.from(item.getElementsByTagName('qti-equal'));
    expect(Number(correct?.textContent)).toBeCloseTo(123, 9);
    expect(equal?.getAttribute('tolerance-mode')).toBe('absolute');
    expect(equal?.getAttribute('tolerance')).toBe('4 4');
    expect(item.textContent).toContain('mm/s');
    expect(item.textContent).toContain('95 of 100 groups find between 119.0 and 127.0 mm/s.');
  });

  it('holds names of stations as text', () => {
    expect(rootOf(files.get('items/S1-R1.xml')).getAttribute('title')).toContain('A & <b> "q"');
    for (const text of files.values()) expect(text).not.toContain('<b>');
  });

  it('has an item for each result of each station, in identifiers that are XML names', () => {
    const test = rootOf(files.get('test.xml'));
    const references = Array.from(test.getElementsByTagName('qti-assessment-item-ref'));
    expect(references.map((one) => one.getAttribute('href'))).toEqual(['items/S1-R1.xml', 'items/S2-R1.xml']);
    for (const one of references) expect(one.getAttribute('identifier')).toMatch(/^[A-Za-z_][\w.-]*$/);
  });

  it('gives the same bytes for the same lab, and is a format of the answer key', () => {
    expect(writeAssessment(sampleTree(), stations)).toEqual(writeAssessment(sampleTree(), stations));
    expect(FORMATS.find(({ name }) => name === 'qti')?.kinds).toEqual(['answer key']);
  });
});
