import { nodesOf, parseEquation, parseExpression, type Tree } from '../expression/index.ts';

/** Offsets at which a text names a symbol, rising; null where it holds the word and is no expression. */
export function symbolOffsets(text: string, name: string): readonly number[] | null {
  const whole = parseExpression(text);
  if (whole.ok) return offsetsIn(whole.value.tree, text, name, 0);
  const equation = text.includes('=') ? parseEquation(text) : whole;
  if (!equation.ok) return isWholeWord(text, name) ? null : [];
  if (!('left' in equation.value)) return [];
  const behind = text.indexOf('=') + 1;
  const { left, right } = equation.value;
  return [...offsetsIn(left.tree, text, name, 0), ...offsetsIn(right.tree, text, name, behind)];
}

function offsetsIn(tree: Tree, text: string, name: string, shift: number): readonly number[] {
  const offsets = nodesOf(tree).flatMap((node) =>
    node.kind === 'name' && node.name === name && text.startsWith(name, node.span.start + shift)
      ? [node.span.start + shift]
      : [],
  );
  return [...new Set(offsets)].sort((a, b) => a - b);
}

function isWholeWord(text: string, name: string): boolean {
  return text.split(/[^\p{L}\p{Nd}_\u2080-\u2089]+/u).includes(name);
}

/** An expression or equation with a symbol under another name; null where it holds the word and cannot be read. */
export function renameIn(text: string, from: string, to: string): string | null {
  const offsets = symbolOffsets(text, from);
  if (offsets === null) return null;
  return offsets.reduceRight((own, start) => own.slice(0, start) + to + own.slice(start + from.length), text);
}
