import { type Tree, toTeX, toText } from '../../expression/index.ts';
import type { PrintSettings } from '../document/index.ts';

/** A formula for every writer: TeX that each turns into its own mathematics, and the plain reading. */
export interface Formula {
  readonly tex: string;
  /** As the lab file would have it; what a screen reader says. */
  readonly plain: string;
}

type Marks = Pick<PrintSettings, 'decimalMark'>;

export function formulaOf(tree: Tree, { decimalMark }: Marks): Formula {
  return { tex: toTeX(tree, { decimalMark }), plain: toText(tree) };
}

/** left = right. */
export function equationOf(left: Tree, right: Tree, marks: Marks): Formula {
  const [from, to] = [formulaOf(left, marks), formulaOf(right, marks)];
  return { tex: `${from.tex} = ${to.tex}`, plain: `${from.plain} = ${to.plain}` };
}

/** A formula of an author; its TeX is its plain reading too. */
export function authorFormula(tex: string): Formula {
  return { tex, plain: tex };
}
