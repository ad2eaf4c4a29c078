import { useDeferredValue, useMemo } from 'react';
import temml from 'temml';
import { parseEquation, parseExpression, toTeX } from '../../src/expression/index.ts';

/** Apart from the rest of the page, for the writer of MathML is large and few screens need it. */
export default function Typeset({ text }: { readonly text: string }) {
  const shown = useDeferredValue(text);
  const mathml = useMemo(() => mathmlOf(shown), [shown]);
  return (
    <span
      className="formula-set"
      // biome-ignore lint/security/noDangerouslySetInnerHtml: MathML made of our own TeX of a checked tree.
      dangerouslySetInnerHTML={{ __html: mathml }}
    />
  );
}

function mathmlOf(text: string): string {
  const tex = texOf(text);
  if (tex === null) return '';
  return temml.renderToString(tex, { displayMode: true, throwOnError: false, trust: false, strict: false });
}

function texOf(text: string): string | null {
  if (/(^|[^<>=!])=([^=]|$)/.test(text)) {
    const equation = parseEquation(text);
    if (!equation.ok) return null;
    return `${toTeX(equation.value.left.tree)} = ${toTeX(equation.value.right.tree)}`;
  }
  const expression = parseExpression(text);
  return expression.ok ? toTeX(expression.value.tree) : null;
}
