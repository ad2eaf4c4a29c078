import { expect, it } from 'vitest';
import { unicodeGlyphs } from '../../src/cli/print/glyphs.ts';
import { printLedger } from '../../src/cli/print/ledger-text.ts';
import type { Page } from '../../src/cli/print/page.ts';
import { tame } from '../../src/cli/print/plain-text.ts';
import { reconcile } from '../../src/reconcile/index.ts';
import { must, openShipped } from '../labs/shipped-lab.ts';

const page: Page = {
  width: 100,
  glyphs: unicodeGlyphs,
  paint: (text) => text,
  decimalMark: '.',
  plain: tame,
};

it('a measured slope of 3.36 against 3.57 is printed as a 5.9 % difference (common practice, no source)', async () => {
  const { pipeline } = await openShipped('draped-chain');
  const [ledger] = must(reconcile(pipeline, [], { draws: 2 })).ledgers;
  expect(ledger).toBeDefined();
  if (ledger === undefined) return;
  const exact = (value: number) => ({ value, standardUncertainty: 0.01 });
  const lines = printLedger(page, {
    ...ledger,
    theory: exact(3.57),
    reduction: [],
    ideal: exact(3.57),
    effects: [],
    full: exact(3.57),
    measured: { ...exact(3.36), n: 3, fromScatter: 0.01, fromQuantities: 0, interval: null },
    remainder: {
      ...exact(3.36 - 3.57),
      z: -21,
      degreesOfFreedom: 2,
      probability: 0.002,
      verdict: 'unexplained',
      closing: [],
    },
  });
  expect(lines.find((line) => line.startsWith('remainder'))).toContain('5.9 %');
});
