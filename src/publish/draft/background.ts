import { namesIn, nodesOf, type Tree } from '../../expression/index.ts';
import type { DerivationLine } from '../../lab/index.ts';
import {
  type Block,
  type Inlines,
  joinInlines,
  type Level,
  paragraph,
  plainNumber,
  say,
  strong,
} from '../document/index.ts';
import { printedLaw } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { nameTree } from './names.ts';
import { type Section, section } from './section.ts';
import { draftStepLoop } from './step-loop.ts';
import { writtenLines } from './written-lines.ts';

/**
 * The physics behind the lab, as far as the level goes: the law in words; the derivation line by line; the step loop
 * where there is no calculus and no derivation; what is left out.
 */
export function draftBackground(desk: Desk, level: Level): Section {
  const { lab, phrases } = desk;
  const { background } = phrases;
  const law = lab.derivation[0]?.because ?? '';
  const blocks: Block[] = [
    paragraph(
      background.ideal,
      ...(law === '' ? [] : [' ', ...background.lawInWords(desk.names.words(withoutFullStop(law)))]),
    ),
  ];
  blocks.push(...relationBlocks(desk));
  if (level === 'steps') blocks.push(...draftStepLoop(desk));
  else blocks.push(...derivationBlocks(desk, level));
  blocks.push(...theoryBlocks(desk, level), ...leftOutBlocks(desk));
  return section('background', ...blocks);
}

function withoutFullStop(text: string): string {
  return text.trim().replace(/\.$/u, '');
}

/** The law of a relation and what its parts stand for; it says how they depend where the control is in it. */
function relationBlocks({ lab, phrases, names, gathered }: Desk): readonly Block[] {
  const { model } = lab;
  const printed = printedLaw(gathered.pipeline);
  if (model.kind !== 'relation' || printed === null) return [];
  const { background } = phrases;
  const { output, control } = model.relation;
  const { law, parts } = printed;
  const equation = (name: string, right: Tree): Block => ({
    kind: 'equation',
    left: nameTree(name),
    right,
    note: [],
  });
  const tellsControl = [law, ...parts.map(({ is }) => is)].some((tree) => namesIn(tree).has(control));
  return [
    tellsControl
      ? paragraph(...background.model(names.symbol(output), names.symbol(control)))
      : paragraph(...background.modelOf(names.symbol(output))),
    equation(output, law),
    ...(parts.length === 0 ? [] : [paragraph(background.modelParts)]),
    ...parts.map(({ name, is }) => equation(name, is)),
  ];
}

/** Lines of the derivation; without calculus those that need none, accelerations under a letter of their own. */
function derivationBlocks(desk: Desk, level: 'algebra' | 'calculus'): readonly Block[] {
  const { lab, phrases } = desk;
  const lines = writtenLines(lab).flatMap((line) =>
    level === 'calculus' ? [line] : withoutCalculus(line, desk),
  );
  if (lines.length === 0) return [];
  const leavesOut = lines.length < lab.derivation.length;
  return [
    paragraph(phrases.background.derivation, ...(leavesOut ? [' ', phrases.background.sumOverSteps] : [])),
    ...lines.map((line) => equationOf(line, desk)),
  ];
}

function equationOf(line: DerivationLine, { phrases, names }: Desk): Block {
  const { background } = phrases;
  const note: Inlines = joinInlines(
    ...(line.because === '' ? [] : background.because(names.words(withoutFullStop(line.because)))),
    ...(line.within > 0 ? [' ', ...background.withinShare(say`${plainNumber(100 * line.within, 2)} %`)] : []),
  );
  return { kind: 'equation', left: line.equation.left.tree, right: line.equation.right.tree, note };
}

/** The line as algebra has it: x'' is the acceleration a; nothing where it needs an integral or another derivative. */
function withoutCalculus(line: DerivationLine, { lab }: Desk): readonly DerivationLine[] {
  const { left, right } = line.equation;
  const taken = lab.quantities.byName;
  const rename = (tree: Tree): Tree | null => {
    if (needsCalculus(tree)) return null;
    return renameSecond(tree, taken);
  };
  const renamedLeft = rename(left.tree);
  const renamedRight = rename(right.tree);
  if (renamedLeft === null || renamedRight === null) return [];
  return [
    { ...line, equation: { left: { ...left, tree: renamedLeft }, right: { ...right, tree: renamedRight } } },
  ];
}

function needsCalculus(tree: Tree): boolean {
  for (const node of nodesOf(tree)) {
    if (node.kind === 'call' && (node.name === 'integrate' || node.name === 'd')) return true;
    if (node.kind === 'name' && (node.primes === 1 || node.primes > 2)) return true;
  }
  return false;
}

/** x'' becomes a, or α where it is an angle's; where the letter is taken by a quantity, the line keeps its marks. */
function renameSecond(tree: Tree, taken: ReadonlyMap<string, unknown>): Tree {
  switch (tree.kind) {
    case 'name': {
      if (tree.primes !== 2) return tree;
      const letter = /^(theta|phi|θ|φ|varphi)$/u.test(tree.name) ? 'alpha' : 'a';
      return taken.has(letter) ? tree : { ...tree, name: letter, primes: 0 };
    }
    case 'negate':
    case 'not':
      return { ...tree, operand: renameSecond(tree.operand, taken) };
    case 'arithmetic':
    case 'compare':
    case 'logic':
      return { ...tree, left: renameSecond(tree.left, taken), right: renameSecond(tree.right, taken) };
    case 'call':
      return { ...tree, arguments: tree.arguments.map((part) => renameSecond(part, taken)) };
    default:
      return tree;
  }
}

/** What theory says of each result: as a formula, as a plain number, or, where it needs an integral, in words. */
function theoryBlocks({ lab, phrases, names }: Desk, level: Level): readonly Block[] {
  const { background } = phrases;
  return lab.results.flatMap((result): Block[] => {
    if (result.theory === null) return [];
    const { tree } = result.theory.expression;
    const what = names.result(result);
    if (level !== 'calculus' && needsCalculus(tree))
      return [paragraph(...background.theoryNeedsMachine(what))];
    if (namesIn(tree).size === 0)
      return [paragraph(...background.theoryIsNumber(what, names.expression(result.theory.expression.text)))];
    return [
      paragraph(...background.theoryGives(what)),
      { kind: 'equation', left: nameTree(result.name), right: tree, note: [] },
    ];
  });
}

function leftOutBlocks({ lab, phrases, names }: Desk): readonly Block[] {
  const { background } = phrases;
  if (lab.effects.length === 0) return [paragraph(background.nothingLeftOut)];
  return [
    paragraph(background.leftOut),
    {
      kind: 'list',
      ordered: false,
      items: lab.effects.map(({ name, is }) => [
        paragraph(strong(...names.words(name)), ...(is === '' ? [] : [': ', ...names.words(is)])),
      ]),
    },
  ];
}
