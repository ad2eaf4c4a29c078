import { expect, it } from 'vitest';
import { reconcile, withoutRounding } from '../../src/reconcile/index.ts';
import { must, openShipped } from '../labs/shipped-lab.ts';

it('an ideal model whose line meets nought shows nought, not its rounding; all else stays to the bit', async () => {
  const { pipeline, trials } = await openShipped('rollers');
  const { ledgers } = must(reconcile(pipeline, trials, { draws: 50 }));
  const bare = ledgers.find(({ result }) => result.name === 'k_0');
  const told = bare === undefined ? undefined : withoutRounding(bare);
  // A body without inertia of turning has the shape number 0, which a line through the ideal runs gives to rounding.
  expect(Math.abs(bare?.ideal.value ?? 1)).toBeLessThan(1e-9);
  expect(told?.ideal).toEqual({ value: 0, standardUncertainty: 0 });
  expect({ ...told, ideal: bare?.ideal }).toEqual(bare);
  const main = ledgers[0];
  const ring = main === undefined ? undefined : withoutRounding(main);
  expect([ring?.ideal.value, ring?.full, ring?.effects]).toEqual([
    main?.ideal.value,
    main?.full,
    main?.effects,
  ]);
});
