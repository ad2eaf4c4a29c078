import { beforeAll, describe, expect, it } from 'vitest';
import { toText } from '../../../src/expression/index.ts';
import {
  type Block,
  type LabDocumentTree,
  plainLine,
  type ValueInline,
  walkBlocks,
  walkInlines,
} from '../../../src/publish/document/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { type Gathered, mainLedger } from '../../../src/publish/gather/index.ts';
import { fromSI } from '../../../src/quantity/index.ts';
import { reduceTrials } from '../../../src/run/index.ts';
import { gatherLab, inEnglish, take } from './gathered-lab.ts';

let gathered: Gathered;
let english: readonly LabDocumentTree[];
let german: readonly LabDocumentTree[];

beforeAll(async () => {
  gathered = await gatherLab('tow-chain', { withTrials: true, draws: 60, rehearsals: 8 });
  const request = { settings: inEnglish, sources: [], madeBy: 'Benchwright' };
  english = take(draftDocuments(gathered, request));
  german = take(
    draftDocuments(gathered, { ...request, settings: { ...inEnglish, language: 'de', decimalMark: ',' } }),
  );
}, 120_000);

const find = (kind: LabDocumentTree['kind'], level: LabDocumentTree['level'] = null) => {
  const found = english.find((tree) => tree.kind === kind && tree.level === level);
  if (found === undefined) throw new Error(`there is no ${kind}`);
  return found;
};
const valuesIn = (blocks: readonly Block[]): readonly ValueInline[] =>
  [...walkInlines(blocks)].filter((inline): inline is ValueInline => inline.kind === 'value');
const linesOfText = (tree: LabDocumentTree) =>
  [...walkBlocks(tree.blocks)].flatMap((block) =>
    block.kind === 'paragraph' ? [plainLine(block.inlines, inEnglish)] : [],
  );

describe('every document of the flagship lab', () => {
  it('is there: a handout for each level, and one of each other kind', () => {
    expect(english.map(({ kind, level }) => [kind, level])).toEqual([
      ['handout', 'steps'],
      ['handout', 'algebra'],
      ['handout', 'calculus'],
      ['teacher guide', null],
      ['answer key', null],
      ['equipment list', null],
      ['set-up sheet', null],
      ['data sheet', null],
      ['talk', null],
    ]);
  });

  it('has the same blocks and the same numbers in both languages', () => {
    english.forEach((tree, index) => {
      const other = german[index];
      expect([...walkBlocks(other?.blocks ?? [])].map(({ kind }) => kind)).toEqual(
        [...walkBlocks(tree.blocks)].map(({ kind }) => kind),
      );
      // Sentences order their values by their grammar, so the numbers are compared as a set.
      const numbers = (blocks: readonly Block[]) =>
        valuesIn(blocks)
          .map(({ value }) => value)
          .sort((a, b) => a - b);
      expect(numbers(other?.blocks ?? [])).toEqual(numbers(tree.blocks));
    });
  });

  it('holds only finite numbers, names every heading once, and no line is empty where words should stand', () => {
    for (const tree of [...english, ...german]) {
      for (const { value, standardUncertainty } of valuesIn(tree.blocks)) {
        expect(Number.isFinite(value)).toBe(true);
        expect(standardUncertainty).toBeGreaterThanOrEqual(0);
      }
      const ids = tree.blocks.flatMap((block) => (block.kind === 'heading' ? [block.id] : []));
      expect(new Set(ids).size).toBe(ids.length);
      for (const line of linesOfText(tree)) {
        expect(line.trim()).not.toBe('');
        expect(line).not.toMatch(/undefined|NaN|\[object|not a number| {2}\S*\.$/u);
      }
    }
  });

  it('has rows as wide as their heads in all tables', () => {
    for (const tree of english) {
      for (const block of walkBlocks(tree.blocks)) {
        if (block.kind !== 'table') continue;
        expect(block.align).toHaveLength(block.head.length);
        for (const row of block.rows) expect(row).toHaveLength(block.head.length);
      }
    }
  });
});

describe('what students get', () => {
  it('holds no answers and no teacher notes', () => {
    for (const tree of english.filter(({ kind }) => kind !== 'teacher guide' && kind !== 'answer key')) {
      for (const block of walkBlocks(tree.blocks)) {
        expect(block.kind).not.toBe('teacher note');
        if (block.kind === 'question') expect(block.answer).toEqual([]);
      }
    }
  });

  it('does not hold what the class is to find', () => {
    const secrets = gathered.reconciliation.ledgers.flatMap((ledger) =>
      [ledger.full, ledger.measured, ledger.theory].flatMap((found) =>
        found === null ? [] : [fromSI(found.value, ledger.result.unit, 'point')],
      ),
    );
    for (const level of ['steps', 'algebra', 'calculus'] as const) {
      for (const { value } of valuesIn(find('handout', level).blocks)) expect(secrets).not.toContain(value);
    }
  });

  it('derives with integrals for calculus, without them for algebra, and steps instead of both', () => {
    const equations = (level: 'steps' | 'algebra' | 'calculus') =>
      [...walkBlocks(find('handout', level).blocks)].flatMap((block) =>
        block.kind === 'equation' ? [`${toText(block.left)} = ${toText(block.right)}`] : [],
      );
    expect(equations('calculus').join(';')).toContain('integrate');
    expect(equations('algebra').join(';')).not.toMatch(/integrate|'/u);
    expect(equations('algebra')[0]).toBe('(m_t + m_c)*a = lambda*g*x');
    expect(equations('steps')).toHaveLength(gathered.pipeline.lab.results.length);
  });

  it('steps the ideal motion as by hand: v + lambda g x/(m_t + m_c) times the step, then x + the new v times the step', () => {
    const g = gathered.pipeline.values(gathered.pipeline.nominal);
    const of = (name: string) => g[gathered.pipeline.lab.quantities.byName.get(name)?.index ?? -1];
    const { handSteps } = gathered;
    if (handSteps === null) throw new Error('there are no steps');
    let x = of('x_0');
    let v = 0;
    for (const row of handSteps.rows) {
      expect(row.values[0]).toBeCloseTo(x, 10);
      expect(row.values[1]).toBeCloseTo(v, 10);
      v += ((of('lambda') * of('g') * x) / (of('m_t') + of('lambda') * of('L'))) * handSteps.stepS;
      x += v * handSteps.stepS;
    }
  });
});

describe('the teacher guide', () => {
  it('states the measured means that the reduction gives', () => {
    const { outputs } = take(reduceTrials(gathered.pipeline, gathered.trials));
    const values = valuesIn(find('teacher guide').blocks).map(({ value }) => value);
    for (const { output, value } of outputs) {
      expect(
        values.some((found) => Math.abs(found - fromSI(value, output.result.unit, 'point')) < 1e-9),
      ).toBe(true);
    }
  });

  it('tells each effect of the ledger with its share, and the shares lead from ideal to full', () => {
    const ledger = mainLedger(gathered, 'k2');
    if (ledger === undefined) throw new Error('there is no ledger');
    const values = valuesIn(find('teacher guide').blocks).map(({ value }) => value);
    for (const { share } of ledger.effects) expect(values).toContain(Math.abs(share));
    const sum = ledger.effects.reduce((total, { share }) => total + share, ledger.ideal.value);
    expect(sum).toBeCloseTo(ledger.full.value, 12);
  });

  it('answers every question of every handout once', () => {
    const asked = new Set(
      (['steps', 'algebra', 'calculus'] as const).flatMap((level) =>
        [...walkBlocks(find('handout', level).blocks)].flatMap((block) =>
          block.kind === 'question' ? [plainLine(block.inlines, inEnglish)] : [],
        ),
      ),
    );
    const lines = linesOfText(find('answer key'));
    for (const question of asked) expect(lines.filter((line) => line === question)).toHaveLength(1);
    const answers = lines.filter((line) => line.startsWith('Answer: '));
    expect(answers).toHaveLength(asked.size);
  });
});

describe('the sheets and the talk', () => {
  it('give each station its own values', () => {
    const lines = linesOfText(find('data sheet'));
    const told = lines.flatMap((line) => /Station .*$/u.exec(line.replaceAll('\u00a0', ' '))?.[0] ?? []);
    expect(told).toEqual(['Station A: L = 0.900 m', 'Station B: L = 1.200 m', 'Station C: L = 1.500 m']);
  });

  it('take ten minutes, each slide with its share and its notes', () => {
    const slides = find('talk').blocks.flatMap((block) => (block.kind === 'slide' ? [block] : []));
    expect(slides.reduce((sum, { seconds }) => sum + seconds, 0)).toBe(600);
    for (const { seconds, notes } of slides) {
      expect(seconds).toBeGreaterThanOrEqual(20);
      expect(notes.length).toBeGreaterThan(0);
    }
  });
});
