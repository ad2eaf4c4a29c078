import { digitsInUnit, parseExpression, type Tree, toText } from '../expression/index.ts';
import { type DecimalMark, formatNumber, formatUnit } from '../quantity/index.ts';
import { atLevel, fromText, joinText, type RichText, upright } from './rich-text.ts';
import { symbolText } from './symbol-text.ts';

/** A set part, and how tightly its outermost operator holds. */
interface SetPart {
  readonly text: RichText;
  readonly tightness: number;
}

const CONDITION = 0;
const SUM = 1;
const PRODUCT = 2;
const POWER = 3;
const ATOM = 4;

/**
 * An expression set on one line: `v^2` is v², `m_c*g/L` is m_c·g/L with an italic m and a lowered c.
 *
 * What has no place on one line (integrals, a power of a power) stays as the lab file writes it. So does
 * a text that is no expression.
 */
export function expressionText(text: string, decimalMark: DecimalMark = '.'): RichText {
  const parsed = parseExpression(text);
  return parsed.ok ? setTree(parsed.value.tree, decimalMark).text : fromText(text);
}

function setTree(tree: Tree, mark: DecimalMark): SetPart {
  switch (tree.kind) {
    case 'number':
      return setNumber(tree, mark);
    case 'name':
      return { text: symbolText(tree.name, tree.primes), tightness: ATOM };
    case 'negate':
      return { text: joinText('\u2212', wrap(setTree(tree.operand, mark), PRODUCT)), tightness: SUM };
    case 'arithmetic':
      return setArithmetic(tree, mark);
    case 'call':
      return setCall(tree, mark);
    case 'compare': {
      const sign = COMPARISONS[tree.operator] ?? tree.operator;
      const [left, right] = [setTree(tree.left, mark), setTree(tree.right, mark)];
      return { text: joinText(left.text, ` ${sign} `, right.text), tightness: CONDITION };
    }
    case 'logic': {
      const [left, right] = [setTree(tree.left, mark), setTree(tree.right, mark)];
      return { text: joinText(left.text, ` ${tree.operator} `, right.text), tightness: CONDITION };
    }
    default:
      return asWritten(tree);
  }
}

function setNumber({ value, unit }: Tree & { kind: 'number' }, mark: DecimalMark): SetPart {
  const written = unit === undefined ? value : Number(digitsInUnit(value, unit));
  const number = formatNumber(written, { decimalMark: mark });
  const text = unit === undefined ? number : `${number}\u00a0${formatUnit(unit)}`;
  return { text: fromText(text), tightness: value < 0 ? SUM : ATOM };
}

/** Comparisons as they are printed. */
const COMPARISONS: Readonly<Record<string, string>> = { '<=': '≤', '>=': '≥', '!=': '≠', '==': '=' };

function setArithmetic(tree: Tree & { kind: 'arithmetic' }, mark: DecimalMark): SetPart {
  const left = setTree(tree.left, mark);
  const right = setTree(tree.right, mark);
  switch (tree.operator) {
    case '+':
      return { text: joinText(left.text, ' + ', wrap(right, PRODUCT)), tightness: SUM };
    case '-':
      return { text: joinText(left.text, ' \u2212 ', wrap(right, PRODUCT)), tightness: SUM };
    case '*':
      return { text: joinText(wrap(left, PRODUCT), '·', wrap(right, PRODUCT)), tightness: PRODUCT };
    case '/':
      return { text: joinText(wrap(left, PRODUCT), '/', wrap(right, POWER)), tightness: PRODUCT };
    case '^': {
      const nested = right.text.some((run) => run.level !== 'base');
      return nested
        ? asWritten(tree)
        : { text: joinText(wrap(left, ATOM), atLevel(right.text, 'raised')), tightness: POWER };
    }
  }
}

function setCall(tree: Tree & { kind: 'call' }, mark: DecimalMark): SetPart {
  if (tree.name === 'integrate' || tree.name === 'd') return asWritten(tree);
  const inner = tree.arguments.map((argument) => setTree(argument, mark).text);
  const listed = inner.flatMap((text, index) =>
    index === 0 ? text : joinText(mark === ',' ? '; ' : ', ', text),
  );
  if (tree.name === 'abs') return { text: joinText('|', listed, '|'), tightness: ATOM };
  const name = tree.name === 'sqrt' ? '√' : tree.name;
  return { text: joinText(upright(name), '(', listed, ')'), tightness: ATOM };
}

function wrap(part: SetPart, least: number): RichText {
  return part.tightness < least ? joinText('(', part.text, ')') : part.text;
}

function asWritten(tree: Tree): SetPart {
  return { text: fromText(toText(tree)), tightness: SUM };
}
