import { coherentUnit, type Unit } from '../../quantity/index.ts';
import type { MonteCarloStatement, QuantityStatement } from '../../run/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { labToJson } from './lab-json.ts';
import { finite, intervalIn, pointIn } from './values.ts';

/** The document of `quantities --json`; docs/json.md says what each key holds. */
export function quantitiesToJson(
  open: OpenLab,
  statements: readonly QuantityStatement[],
  drawn: MonteCarloStatement | null,
): Readonly<Record<string, unknown>> {
  return {
    lab: labToJson(open),
    method:
      drawn === null
        ? { kind: 'linear', source: 'JCGM 100:2008' }
        : { kind: 'draws', source: 'JCGM 101:2008', draws: drawn.draws, stable: drawn.stable },
    quantities: Object.fromEntries(
      statements.map((statement, index) => [
        statement.quantity.name,
        quantityToJson(statement, drawn?.quantities[index]?.drawn ?? null),
      ]),
    ),
  };
}

type Drawn = MonteCarloStatement['quantities'][number]['drawn'];

/** The unit that a quantity is stated in: its own, else the SI unit of its dimension. */
export function unitOf({ quantity }: QuantityStatement): Unit {
  return quantity.unit ?? coherentUnit(quantity.dimension);
}

function quantityToJson(
  statement: QuantityStatement,
  drawn: Drawn | null,
): Readonly<Record<string, unknown>> {
  const unit = unitOf(statement);
  const { interval, budget, quantity } = statement;
  const value = drawn?.mean ?? statement.value;
  const u = drawn?.standardUncertainty ?? statement.standardUncertainty;
  const low = drawn?.symmetric.low ?? interval.low;
  const high = drawn?.symmetric.high ?? interval.high;
  return {
    value: pointIn(unit, value),
    unit: unit.text,
    u: intervalIn(unit, u),
    dof: finite(statement.degreesOfFreedom),
    interval: { level: interval.level, low: pointIn(unit, low), high: pointIn(unit, high) },
    ...(drawn === null
      ? {}
      : {
          shortest: {
            level: interval.level,
            low: pointIn(unit, drawn.shortest.low),
            high: pointIn(unit, drawn.shortest.high),
          },
          numerical_u: intervalIn(unit, drawn.numerical.standardUncertainty),
          numerical: {
            value: intervalIn(unit, drawn.numerical.mean),
            u: intervalIn(unit, drawn.numerical.standardUncertainty),
            low: intervalIn(unit, drawn.numerical.low),
            high: intervalIn(unit, drawn.numerical.high),
          },
          left_domain: drawn.leftDomain,
        }),
    budget: budget.map(({ from, share, uncertainty }) => ({ from, share, u: intervalIn(unit, uncertainty) })),
    is: quantity.is,
    from: quantity.from,
    kind: quantity.kind === 'base' ? 'given' : 'computed',
    si: { value: finite(value), u: finite(u) },
  };
}
