import { symbolMap, tex2typst } from 'tex2typst';
import type { Formula } from '../writing/index.ts';
import { typstString } from './typst-string.ts';

/** Words of the typesetter's mathematics that a formula may hold, beside the signs that the translator knows. */
const FUNCTIONS: ReadonlySet<string> = new Set([
  ...[
    'lr',
    'upright',
    'bold',
    'italic',
    'sans',
    'mono',
    'cal',
    'scr',
    'frak',
    'bb',
    'op',
    'sqrt',
    'root',
    'frac',
  ],
  ...[
    'cases',
    'mat',
    'vec',
    'binom',
    'abs',
    'norm',
    'floor',
    'ceil',
    'round',
    'mid',
    'accent',
    'overline',
    'underline',
  ],
  ...[
    'overbrace',
    'underbrace',
    'overbracket',
    'underbracket',
    'attach',
    'limits',
    'scripts',
    'display',
    'inline',
  ],
  ...[
    'hat',
    'tilde',
    'grave',
    'acute',
    'macron',
    'breve',
    'dot',
    'diaer',
    'circle',
    'arrow',
    'cancel',
    'stretch',
  ],
  ...[
    'thin',
    'med',
    'thick',
    'quad',
    'wide',
    'delim',
    'gap',
    'op',
    'none',
    'comma',
    'double',
    'triple',
    'd',
    'dif',
  ],
  ...'arccos arcsin arctan arg cos cosh cot coth csc deg det dim exp gcd lim ln log lg max min mod sec sin sinh sup tan tanh'.split(
    ' ',
  ),
  ...[
    'integral',
    'sum',
    'product',
    'infinity',
    'partial',
    'nabla',
    'and',
    'or',
    'not',
    'l',
    'r',
    'small',
    'space',
  ],
]);

const SIGNS: ReadonlySet<string> = new Set(
  [...symbolMap.values()].flatMap((value) => String(value).match(/\p{L}{2,}/gu) ?? []),
);

/**
 * A formula as an equation of the typesetter, with its plain reading as alternative text.
 *
 * TeX that cannot be read, or that leads to anything but known signs and functions, is shown as it stands: author's
 * formulas never become code.
 */
export function typstFormula(formula: Formula, display: boolean): string {
  const math = translate(formula.tex);
  if (math === null) return `#raw(${typstString(formula.tex)});`;
  return `#math.equation(block: ${display}, alt: ${typstString(formula.plain)}, $ ${math} $.body);`;
}

/** TeX as mathematics of the typesetter; null where it does not lead to plain mathematics. */
export function translate(tex: string): string | null {
  if (/[#"`@$]/.test(tex)) return null;
  try {
    // A decimal comma is no comma between arguments.
    const marked = tex.replace(/(\d)\{,\}(?=\d)/g, '$1\\text{,}');
    const math = tex2typst(marked, { preferShorthands: false, fracToSlash: false })
      .replace(/(\d) ?"," ?(?=\d)/g, '$1","')
      .trim();
    return isPlainMathematics(math) ? math : null;
  } catch {
    return null;
  }
}

function isPlainMathematics(math: string): boolean {
  const outside = math.replace(/"[^"\\#]*"/g, ' ');
  if (/["#`@$;]|\/\/|\/\*|\\(?![/\s(){}[\]|,.;:%&_^*~'!]|$)/.test(outside)) return false;
  return (outside.match(/\p{L}{2,}/gu) ?? []).every((word) => FUNCTIONS.has(word) || SIGNS.has(word));
}
