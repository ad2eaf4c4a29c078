import { useMemo } from 'react';
import type { Lab } from '../../../src/lab/index.ts';
import {
  coherentUnit,
  formatEstimate,
  formatNumber,
  formatUnit,
  fromSI,
  parseMagnitude,
} from '../../../src/quantity/index.ts';
import { type QuantityStatement, stateQuantities } from '../../../src/run/index.ts';
import type { LiveSetting } from '../../bench/bench-state.ts';
import { useBenchState } from '../../bench/use-bench.tsx';

let stated: { readonly lab: Lab; readonly statements: readonly QuantityStatement[] } | null = null;

/** Value, uncertainty and budget of every quantity; made once for all rows that ask. */
export function statementsOf(lab: Lab): readonly QuantityStatement[] {
  if (stated?.lab !== lab) stated = { lab, statements: stateQuantities(lab) };
  return stated.statements;
}

/** The value of a quantity as printed: with its uncertainty, or while something is in the hand, its value alone. */
export function useQuantityNow(name: string): string | null {
  const lab = useBenchState((state) => state.lab);
  const live = useBenchState((state) => state.live);
  return useMemo(() => {
    if (lab === null) return null;
    const statement = statementsOf(lab).find(({ quantity }) => quantity.name === name);
    if (statement === undefined) return null;
    const unit = unitOf(statement);
    if (live === null) return formatEstimate(statement, unit);
    const value = valueWith(lab, live, statement.quantity.index);
    const number = formatNumber(fromSI(value, unit, 'point'), { significant: 5 });
    return `${number} ${formatUnit(unit)}`.trim();
  }, [lab, live, name]);
}

function unitOf({ quantity }: QuantityStatement) {
  return quantity.unit ?? coherentUnit(quantity.dimension);
}

function valueWith(lab: Lab, live: LiveSetting, index: number): number {
  const values = new Float64Array(lab.quantities.all.length);
  for (const { index: at, estimate } of lab.quantities.base) values[at] = estimate.value;
  const held = lab.quantities.byName.get(live.name);
  const magnitude = parseMagnitude(live.written, 'point');
  if (held?.kind === 'base' && magnitude.ok) values[held.index] = magnitude.value.value;
  lab.derive(values);
  return values[index];
}
