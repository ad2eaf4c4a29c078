import { xmlAttribute, xmlText } from '../writing/index.ts';

/** A question with a number for its answer, in the unit of the result. */
export interface NumericItem {
  /** Letters, digits, hyphens and underscores, a letter first: an XML name. */
  readonly identifier: string;
  readonly title: string;
  /** Paragraphs before the field. */
  readonly ask: readonly string[];
  /** Behind the field; empty for a plain number. */
  readonly unit: string;
  readonly answer: number;
  /** The answer counts as right up to this far from it, > 0. */
  readonly tolerance: number;
  /** What the answer is, for those who mark by hand. */
  readonly feedback: string;
}

/** Namespace and schema of QTI 3 items and tests (1EdTech, Question and Test Interoperability 3.0, 2022). */
const ITEM_NAMESPACE = 'http://www.imsglobal.org/xsd/imsqtiasi_v3p0';
const ITEM_SCHEMA = 'https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd';

export const ROOT_ATTRIBUTES = `xmlns="${ITEM_NAMESPACE}" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="${ITEM_NAMESPACE} ${ITEM_SCHEMA}"`;

/** Significant digits of answers: more than any tolerance needs. */
const DIGITS = 6;

/**
 * One item in QTI 3: a text entry for a number, right within an absolute tolerance.
 *
 * Source: 1EdTech, QTI Assessment, Section and Item information model 3.0, 2.7 (items), 3.4 (qti-equal)
 */
export function qtiItem(item: NumericItem, language: string): string {
  const { identifier, title, ask, unit, answer, tolerance, feedback } = item;
  const number = (value: number) => String(Number(value.toPrecision(DIGITS)));
  const paragraphs = ask.map((text) => `    <p>${xmlText(text)}</p>`);
  return `<?xml version="1.0" encoding="UTF-8"?>
<qti-assessment-item ${ROOT_ATTRIBUTES} identifier="${xmlAttribute(identifier)}" title="${xmlAttribute(title)}" adaptive="false" time-dependent="false" xml:lang="${xmlAttribute(language)}">
  <qti-response-declaration identifier="RESPONSE" cardinality="single" base-type="float">
    <qti-correct-response>
      <qti-value>${number(answer)}</qti-value>
    </qti-correct-response>
  </qti-response-declaration>
  <qti-outcome-declaration identifier="SCORE" cardinality="single" base-type="float">
    <qti-default-value>
      <qti-value>0</qti-value>
    </qti-default-value>
  </qti-outcome-declaration>
  <qti-outcome-declaration identifier="FEEDBACK" cardinality="single" base-type="identifier"/>
  <qti-item-body>
${paragraphs.join('\n')}
    <p><qti-text-entry-interaction response-identifier="RESPONSE" expected-length="12"/>${unit === '' ? '' : ` ${xmlText(unit)}`}</p>
  </qti-item-body>
  <qti-response-processing>
    <qti-response-condition>
      <qti-response-if>
        <qti-equal tolerance-mode="absolute" tolerance="${number(tolerance)} ${number(tolerance)}">
          <qti-variable identifier="RESPONSE"/>
          <qti-correct identifier="RESPONSE"/>
        </qti-equal>
        <qti-set-outcome-value identifier="SCORE">
          <qti-base-value base-type="float">1</qti-base-value>
        </qti-set-outcome-value>
      </qti-response-if>
    </qti-response-condition>
    <qti-set-outcome-value identifier="FEEDBACK">
      <qti-base-value base-type="identifier">ANSWER</qti-base-value>
    </qti-set-outcome-value>
  </qti-response-processing>
  <qti-modal-feedback identifier="ANSWER" outcome-identifier="FEEDBACK" show-hide="show">
    <qti-content-body>
      <p>${xmlText(feedback)}</p>
    </qti-content-body>
  </qti-modal-feedback>
</qti-assessment-item>
`;
}
