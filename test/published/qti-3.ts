const CARDINALITIES: readonly string[] = ['multiple', 'ordered', 'record', 'single'];

const BASE_TYPES: readonly string[] = [
  'boolean',
  'directedPair',
  'duration',
  'file',
  'float',
  'identifier',
  'integer',
  'pair',
  'point',
  'string',
  'uri',
];

/**
 * The part of QTI 3.0 that items with a number for an answer use: children in their order, attributes, values of those
 * that are enumerated.
 *
 * Read from the published schemas (IMS Global, now 1EdTech): items and tests from "IMS QTI 3.0 ASI SBAC PROFILE 1.0",
 * final release of 1 May 2022, which for the elements here differs from imsqti_asiv3p0_v1p0.xsd only in forbidding
 * attributes of one's own, and a mechanical transcription of that one; packages from imsqtiv3p0_imscpv1p2_v1p0.xsd of
 * 1 April 2019. The tolerance of qti-equal is from memory of the information model, 3.4. Children that items here never
 * have are left out.
 */
export const QTI_3: {
  readonly itemNamespace: string;
  readonly packageNamespace: string;
  readonly elements: Readonly<
    Record<
      string,
      | {
          readonly required: readonly string[];
          readonly optional: readonly string[];
          readonly children: readonly string[];
          /** Attributes with a closed set of values. */
          readonly values?: Readonly<Record<string, readonly string[]>>;
        }
      | undefined
    >
  >;
} = {
  itemNamespace: 'http://www.imsglobal.org/xsd/imsqtiasi_v3p0',
  packageNamespace: 'http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1',
  elements: {
    'qti-assessment-item': {
      required: ['identifier', 'title', 'time-dependent'],
      optional: ['label', 'xml:lang', 'adaptive', 'tool-name', 'tool-version'],
      children: [
        'qti-context-declaration',
        'qti-response-declaration',
        'qti-outcome-declaration',
        'qti-template-declaration',
        'qti-template-processing',
        'qti-assessment-stimulus-ref',
        'qti-companion-materials-info',
        'qti-stylesheet',
        'qti-item-body',
        'qti-catalog-info',
        'qti-response-processing',
        'qti-modal-feedback',
      ],
    },
    'qti-response-declaration': {
      required: ['identifier', 'cardinality'],
      optional: ['base-type'],
      children: ['qti-default-value', 'qti-correct-response', 'qti-mapping', 'qti-area-mapping'],
      values: { cardinality: CARDINALITIES, 'base-type': BASE_TYPES },
    },
    'qti-correct-response': { required: [], optional: ['interpretation'], children: ['qti-value'] },
    'qti-value': { required: [], optional: ['field-identifier', 'base-type'], children: [] },
    'qti-outcome-declaration': {
      required: ['identifier', 'cardinality'],
      optional: [
        'base-type',
        'view',
        'interpretation',
        'long-interpretation',
        'normal-maximum',
        'normal-minimum',
        'mastery-value',
        'external-scored',
        'variable-identifier-ref',
      ],
      children: ['qti-default-value', 'qti-match-table', 'qti-interpolation-table'],
      values: { cardinality: CARDINALITIES, 'base-type': BASE_TYPES },
    },
    'qti-default-value': { required: [], optional: ['interpretation'], children: ['qti-value'] },
    'qti-item-body': { required: [], optional: ['id', 'class'], children: ['p'] },
    p: { required: [], optional: ['id', 'class'], children: ['qti-text-entry-interaction'] },
    'qti-text-entry-interaction': {
      required: ['response-identifier'],
      optional: [
        'base',
        'string-identifier',
        'expected-length',
        'pattern-mask',
        'placeholder-text',
        'format',
      ],
      children: [],
    },
    'qti-response-processing': {
      required: [],
      optional: ['template', 'template-location'],
      children: ['qti-response-condition', 'qti-set-outcome-value'],
    },
    'qti-response-condition': {
      required: [],
      optional: [],
      children: ['qti-response-if', 'qti-response-else-if', 'qti-response-else'],
    },
    'qti-response-if': { required: [], optional: [], children: ['qti-equal', 'qti-set-outcome-value'] },
    'qti-equal': {
      required: ['tolerance-mode'],
      optional: ['tolerance', 'include-lower-bound', 'include-upper-bound'],
      children: ['qti-variable', 'qti-correct'],
      values: { 'tolerance-mode': ['absolute', 'exact', 'relative'] },
    },
    'qti-variable': { required: ['identifier'], optional: ['weight-identifier'], children: [] },
    'qti-correct': { required: ['identifier'], optional: [], children: [] },
    'qti-set-outcome-value': { required: ['identifier'], optional: [], children: ['qti-base-value', 'qti-sum'] },
    'qti-base-value': {
      required: ['base-type'],
      optional: [],
      children: [],
      values: { 'base-type': BASE_TYPES },
    },
    'qti-modal-feedback': {
      required: ['outcome-identifier', 'identifier', 'show-hide'],
      optional: ['title'],
      children: ['qti-stylesheet', 'qti-content-body', 'qti-catalog-info'],
      values: { 'show-hide': ['show', 'hide'] },
    },
    'qti-content-body': { required: [], optional: [], children: ['p'] },
    'qti-assessment-test': {
      required: ['identifier', 'title'],
      optional: ['class', 'tool-name', 'tool-version'],
      children: [
        'qti-context-declaration',
        'qti-outcome-declaration',
        'qti-time-limits',
        'qti-stylesheet',
        'qti-rubric-block',
        'qti-test-part',
        'qti-outcome-processing',
        'qti-test-feedback',
      ],
    },
    'qti-test-part': {
      required: ['identifier', 'navigation-mode', 'submission-mode'],
      optional: ['title', 'class'],
      children: ['qti-assessment-section'],
      values: {
        'navigation-mode': ['linear', 'nonlinear'],
        'submission-mode': ['individual', 'simultaneous'],
      },
    },
    'qti-assessment-section': {
      required: ['identifier', 'title', 'visible'],
      optional: ['required', 'fixed', 'class', 'keep-together'],
      children: ['qti-assessment-item-ref'],
    },
    'qti-assessment-item-ref': {
      required: ['identifier', 'href'],
      optional: ['required', 'fixed', 'class', 'category'],
      children: [],
    },
    'qti-outcome-processing': { required: [], optional: [], children: ['qti-set-outcome-value'] },
    'qti-sum': { required: [], optional: [], children: ['qti-test-variables'] },
    'qti-test-variables': {
      required: ['variable-identifier'],
      optional: [
        'base-type',
        'weight-identifier',
        'section-identifier',
        'include-category',
        'exclude-category',
      ],
      children: [],
    },
    manifest: {
      required: ['identifier'],
      optional: ['xml:base'],
      children: ['metadata', 'organizations', 'resources'],
    },
    metadata: { required: [], optional: [], children: ['schema', 'schemaversion'] },
    schema: { required: [], optional: [], children: [] },
    schemaversion: { required: [], optional: [], children: [] },
    organizations: { required: [], optional: [], children: [] },
    resources: { required: [], optional: ['xml:base'], children: ['resource'] },
    resource: {
      required: ['identifier', 'type'],
      optional: ['xml:base', 'href'],
      children: ['metadata', 'file', 'dependency'],
      values: { type: ['imsqti_test_xmlv3p0', 'imsqti_section_xmlv3p0', 'imsqti_item_xmlv3p0'] },
    },
    file: { required: ['href'], optional: [], children: ['metadata'] },
    dependency: { required: ['identifierref'], optional: [], children: [] },
  },
};
