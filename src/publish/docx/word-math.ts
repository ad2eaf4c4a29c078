import { type MathComponent, Math as WordMath, XmlComponent } from 'docx';
import { latexToMath } from 'docx/math';
import type { Formula } from '../writing/index.ts';

/** The parts of an equation that a word processor can edit; null where the TeX cannot be read. */
function partsOf(tex: string): readonly MathComponent[] | null {
  try {
    // A decimal comma is a character of the number; words and units are upright text.
    const prepared = tex.replace(/\{,\}/g, '\\text{,}').replace(/\\mathrm\{([A-Za-z]+)\}/g, '\\text{$1}');
    return latexToMath(prepared);
  } catch {
    return null;
  }
}

/** A formula within a line; null where the TeX cannot be read. */
export function lineMath(formula: Formula): WordMath | null {
  const children = partsOf(formula.tex);
  return children === null ? null : new WordMath({ children });
}

/** A formula on its own line, from the left, in full size; null where the TeX cannot be read. */
export function displayMath(formula: Formula): DisplayMath | null {
  const math = lineMath(formula);
  return math === null ? null : new DisplayMath(math);
}

/** ECMA-376, part 1, 22.1.2.78: a mathematical paragraph. */
export class DisplayMath extends XmlComponent {
  constructor(math: WordMath) {
    super('m:oMathPara');
    this.root.push(new LeftJustified(), math);
  }
}

class LeftJustified extends XmlComponent {
  constructor() {
    super('m:oMathParaPr');
    this.root.push({ 'm:jc': { _attr: { 'm:val': 'left' } } });
  }
}
