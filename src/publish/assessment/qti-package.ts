import { xmlAttribute } from '../writing/index.ts';
import { type NumericItem, qtiItem, ROOT_ATTRIBUTES } from './qti-items.ts';

/** Items of one station stand in a section of their own. */
export interface ItemSection {
  readonly identifier: string;
  readonly title: string;
  readonly items: readonly NumericItem[];
}

const PACKAGE_NAMESPACE = 'http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1';
const PACKAGE_SCHEMA = 'https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd';

const TEST_FILE = 'test.xml';

/**
 * The files of a QTI 3 content package by their names: manifest, test with a section a station, items.
 *
 * Source: 1EdTech, QTI 3.0 content packaging (profile of IMS Content Packaging 1.2)
 */
export function qtiPackage(
  title: string,
  sections: readonly ItemSection[],
  language: string,
): ReadonlyMap<string, string> {
  const items = sections.flatMap((section) => section.items);
  return new Map([
    ['imsmanifest.xml', manifest(items)],
    [TEST_FILE, test(title, sections)],
    ...items.map((item) => [fileOf(item), qtiItem(item, language)] as const),
  ]);
}

function fileOf({ identifier }: NumericItem): string {
  return `items/${identifier}.xml`;
}

function manifest(items: readonly NumericItem[]): string {
  const resources = items.map(
    (item) =>
      `    <resource identifier="RES-${xmlAttribute(item.identifier)}" type="imsqti_item_xmlv3p0" href="${fileOf(item)}">
      <file href="${fileOf(item)}"/>
    </resource>`,
  );
  const dependencies = items.map(
    ({ identifier }) => `      <dependency identifierref="RES-${xmlAttribute(identifier)}"/>`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<manifest xmlns="${PACKAGE_NAMESPACE}" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="${PACKAGE_NAMESPACE} ${PACKAGE_SCHEMA}" identifier="MANIFEST">
  <metadata>
    <schema>QTI Package</schema>
    <schemaversion>3.0.0</schemaversion>
  </metadata>
  <organizations/>
  <resources>
    <resource identifier="RES-TEST" type="imsqti_test_xmlv3p0" href="${TEST_FILE}">
      <file href="${TEST_FILE}"/>
${dependencies.join('\n')}
    </resource>
${resources.join('\n')}
  </resources>
</manifest>
`;
}

/** Items name their language; the schema gives a test none. */
function test(title: string, sections: readonly ItemSection[]): string {
  const parts = sections.map(
    (section) =>
      `    <qti-assessment-section identifier="${xmlAttribute(section.identifier)}" title="${xmlAttribute(section.title)}" visible="true">
${section.items.map((item) => `      <qti-assessment-item-ref identifier="REF-${xmlAttribute(item.identifier)}" href="${fileOf(item)}"/>`).join('\n')}
    </qti-assessment-section>`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<qti-assessment-test ${ROOT_ATTRIBUTES} identifier="TEST" title="${xmlAttribute(title)}">
  <qti-outcome-declaration identifier="SCORE" cardinality="single" base-type="float">
    <qti-default-value>
      <qti-value>0</qti-value>
    </qti-default-value>
  </qti-outcome-declaration>
  <qti-test-part identifier="PART" navigation-mode="nonlinear" submission-mode="simultaneous">
${parts.join('\n')}
  </qti-test-part>
  <qti-outcome-processing>
    <qti-set-outcome-value identifier="SCORE">
      <qti-sum>
        <qti-test-variables variable-identifier="SCORE"/>
      </qti-sum>
    </qti-set-outcome-value>
  </qti-outcome-processing>
</qti-assessment-test>
`;
}
