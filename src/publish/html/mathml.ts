import temml from 'temml';
import type { Formula } from '../writing/index.ts';
import { xmlText } from '../writing/index.ts';

/**
 * A formula as MathML, which browsers draw without script.
 *
 * TeX that cannot be read is shown as it stands; nothing in it can load or run anything.
 */
export function mathmlOf(formula: Formula, display: boolean): string {
  try {
    const math = temml.renderToString(formula.tex, {
      displayMode: display,
      throwOnError: true,
      xml: true,
      trust: false,
      strict: false,
      maxSize: [10, 100],
      maxExpand: 200,
    });
    return math;
  } catch {
    return `<code>${xmlText(formula.tex)}</code>`;
  }
}
