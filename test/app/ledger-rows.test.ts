import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { withLastUncertainties } from '../../app/ledger/last-uncertainties.ts';
import { reachOfRows, rowsOfLedger } from '../../app/ledger/ledger-rows.ts';
import { createPipeline, readLab } from '../../src/lab/index.ts';
import { type GapLedger, type LedgerMethod, reconcile } from '../../src/reconcile/index.ts';

const method: LedgerMethod = {
  kind: 'draws of the model',
  draws: 2,
  failed: 0,
  checked: 0,
  worstDisagreement: 0,
  because: '',
  orders: 'all',
};

describe('the ledger on the screen', () => {
  let ledger: GapLedger;

  beforeAll(async () => {
    const lab = readLab(await readFile('labs/long-swing/lab.yaml', 'utf8'), 'lab.yaml');
    if (!lab.ok) throw new Error('the lab cannot be read');
    const reconciled = reconcile(createPipeline(lab.value), [], { draws: 16 });
    const [first] = reconciled.ok ? reconciled.value.ledgers : [];
    if (first === undefined) throw new Error('there is no ledger');
    ledger = first;
  });

  it('goes from the ideal to the full model without a gap: each effect begins where the last one ended', () => {
    const rows = rowsOfLedger(ledger, true);
    const start = rows.findIndex(({ kind }) => kind === 'ideal');
    const end = rows.findIndex(({ kind }) => kind === 'full');
    for (let i = start + 1; i < end; i++) expect(rows[i]?.from).toBe(rows[i - 1]?.to);
    expect(rows[end - 1]?.to).toBeCloseTo(rows[end]?.from ?? Number.NaN, 10);
  });

  it('prints no digits that nobody could see beside the uncertainty of the full model', () => {
    const full = { value: 0.4211, standardUncertainty: 0.0098 };
    const ideal = { value: 0.49999999953, standardUncertainty: 5.4e-10 };
    const printed = (kind: string): string | undefined =>
      rowsOfLedger({ ...ledger, full, ideal }, true).find((row) => row.kind === kind)?.printed;
    expect([printed('ideal'), printed('full')]).toEqual(['0.50000', '0.4211(98)']);
  });

  it('shows all of every row', () => {
    const rows = rowsOfLedger(ledger, true);
    const [low, high] = reachOfRows(rows);
    for (const { from, to } of rows) {
      expect(Math.min(from, to)).toBeGreaterThan(low);
      expect(Math.max(from, to)).toBeLessThan(high);
    }
  });

  it('keeps the uncertainties found last while a hand moves, and none of another lab', () => {
    const last = { pass: 'complete' as const, ledgers: [ledger], main: [], method };
    const moved = { ...ledger, full: { value: ledger.full.value + 1, standardUncertainty: 99 } };
    const now = { ...last, pass: 'at once' as const, ledgers: [moved] };
    expect(withLastUncertainties(now, last)?.ledgers[0]?.full).toEqual({
      value: ledger.full.value + 1,
      standardUncertainty: ledger.full.standardUncertainty,
    });
    const other = { ...last, ledgers: [{ ...ledger, effects: [] }] };
    expect(withLastUncertainties(now, other)).toBeNull();
  });
});
