/**
 * The part of QTI 3.0 that items with a number for an answer use: children in their order, attributes.
 *
 * From memory of the information model "1EdTech Question and Test Interoperability (QTI): Assessment, Section and Item
 * 3.0" (1 May 2022), 2.7 qti-assessment-item, 2.9 declarations, 3.4 qti-equal, 2.2 qti-assessment-test, and "QTI 3.0
 * Content Packaging"; the schema files themselves could not be had here.
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
      optional: ['label', 'adaptive', 'tool-name', 'tool-version'],
      children: [
        'qti-response-declaration',
        'qti-outcome-declaration',
        'qti-template-declaration',
        'qti-assessment-stimulus-ref',
        'qti-stylesheet',
        'qti-item-body',
        'qti-response-processing',
        'qti-modal-feedback',
      ],
    },
    'qti-response-declaration': {
      required: ['identifier', 'cardinality'],
      optional: ['base-type'],
      children: ['qti-correct-response', 'qti-mapping', 'qti-area-mapping'],
    },
    'qti-correct-response': { required: [], optional: ['interpretation'], children: ['qti-value'] },
    'qti-value': { required: [], optional: ['field-identifier', 'base-type'], children: [] },
    'qti-outcome-declaration': {
      required: ['identifier', 'cardinality'],
      optional: ['base-type', 'normal-maximum', 'normal-minimum'],
      children: ['qti-default-value'],
    },
    'qti-default-value': { required: [], optional: ['interpretation'], children: ['qti-value'] },
    'qti-item-body': { required: [], optional: ['id', 'class'], children: ['p'] },
    p: { required: [], optional: ['id', 'class'], children: ['qti-text-entry-interaction'] },
    'qti-text-entry-interaction': {
      required: ['response-identifier'],
      optional: ['base', 'expected-length', 'pattern-mask', 'placeholder-text'],
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
    },
    'qti-variable': { required: ['identifier'], optional: ['weight-identifier'], children: [] },
    'qti-correct': { required: ['identifier'], optional: [], children: [] },
    'qti-set-outcome-value': { required: ['identifier'], optional: [], children: ['qti-base-value', 'qti-sum'] },
    'qti-base-value': { required: ['base-type'], optional: [], children: [] },
    'qti-modal-feedback': {
      required: ['outcome-identifier', 'identifier', 'show-hide'],
      optional: ['title'],
      children: ['qti-content-body'],
    },
    'qti-content-body': { required: [], optional: [], children: ['p'] },
    'qti-assessment-test': {
      required: ['identifier', 'title'],
      optional: ['tool-name', 'tool-version'],
      children: ['qti-outcome-declaration', 'qti-time-limits', 'qti-test-part', 'qti-outcome-processing'],
    },
    'qti-test-part': {
      required: ['identifier', 'navigation-mode', 'submission-mode'],
      optional: [],
      children: ['qti-assessment-section'],
    },
    'qti-assessment-section': {
      required: ['identifier', 'title', 'visible'],
      optional: ['required', 'fixed', 'keep-together'],
      children: ['qti-assessment-item-ref'],
    },
    'qti-assessment-item-ref': {
      required: ['identifier', 'href'],
      optional: ['required', 'fixed', 'category'],
      children: [],
    },
    'qti-outcome-processing': { required: [], optional: [], children: ['qti-set-outcome-value'] },
    'qti-sum': { required: [], optional: [], children: ['qti-test-variables'] },
    'qti-test-variables': {
      required: ['variable-identifier'],
      optional: ['base-type', 'weight-identifier', 'section-identifier'],
      children: [],
    },
  },
};
