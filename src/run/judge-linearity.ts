import type { Lab } from '../lab/index.ts';
import { listNames, type Problem, warning } from '../problem/index.ts';
import type { QuantityStatement } from './quantity-budget.ts';

/** Second-order terms that raise the variance by this share are told of: u then differs in its second digit. */
const NOTABLE = 0.1;

/**
 * Looks whether the linear propagation tells the truth: whether each computed quantity is straight enough within the
 * uncertainties of what it is computed from, and can be computed there at all.
 *
 * The second derivatives come from differences over one standard uncertainty, so whatever bends within it is seen; their
 * part of the variance is ½ Σᵢⱼ (∂²f/∂xᵢ∂xⱼ)² u²(xᵢ) u²(xⱼ).
 *
 * @param statements of the lab's quantities, by the linear propagation
 * @returns warnings 'not-linear' and 'leaves-domain'
 * Source: JCGM 100:2008, 5.1.2, note
 */
export function judgeLinearity(lab: Lab, statements: readonly QuantityStatement[]): readonly Problem[] {
  const { base, all } = lab.quantities;
  const nominal = new Float64Array(all.length);
  for (const { index, estimate } of base) nominal[index] = estimate.value;
  const uncertain = base.filter(({ estimate }) => estimate.standardUncertainty > 0);
  const at = (shifts: readonly (readonly [input: number, share: number])[]): Float64Array => {
    const values = nominal.slice();
    for (const [input, share] of shifts) {
      const { index, estimate } = uncertain[input];
      values[index] += share * estimate.standardUncertainty;
    }
    lab.derive(values);
    return values;
  };
  const middle = at([]);
  const above = uncertain.map((_, i) => at([[i, 1]]));
  const below = uncertain.map((_, i) => at([[i, -1]]));
  const corners = uncertain.map((_, i) =>
    uncertain.slice(0, i).map((_other, j) => [
      at([
        [i, 1],
        [j, 1],
      ]),
      at([
        [i, -1],
        [j, -1],
      ]),
    ]),
  );
  return statements.flatMap(({ quantity, standardUncertainty }) => {
    if (quantity.kind === 'base') return [];
    const o = quantity.index;
    const place = quantity.place;
    const outside = uncertain.filter((_, i) => !Number.isFinite(above[i][o] + below[i][o]));
    if (outside.length > 0) {
      const names = listNames(outside.map(({ name }) => name));
      const message = `${quantity.name} cannot be computed everywhere within one standard uncertainty of ${names}: its linear uncertainty stands on a part of what may be.`;
      return [warning('leaves-domain', place, message, 'Propagate by draws: --monte-carlo adaptive.')];
    }
    let secondOrder = 0;
    const bent = new Set<string>();
    for (let i = 0; i < uncertain.length; i += 1) {
      const own = above[i][o] - 2 * middle[o] + below[i][o];
      let part = 0.5 * own * own;
      for (let j = 0; j < i; j += 1) {
        const [up, down] = corners[i][j];
        const mixed =
          0.5 * (up[o] + down[o] - above[i][o] - below[i][o] - above[j][o] - below[j][o] + 2 * middle[o]);
        part += mixed * mixed;
        if (mixed * mixed > 0.1 * NOTABLE * standardUncertainty ** 2) bent.add(uncertain[j].name);
      }
      secondOrder += part;
      if (part > 0.1 * NOTABLE * standardUncertainty ** 2) bent.add(uncertain[i].name);
    }
    const rounding = 1e-9 * Math.abs(middle[o]);
    const size = Math.sqrt(secondOrder);
    if (!(size > rounding) || secondOrder <= NOTABLE * standardUncertainty ** 2) return [];
    const share = (100 * size) / standardUncertainty;
    const message =
      standardUncertainty === 0
        ? `${quantity.name} does not change with ${listNames([...bent])} to first order, so the linear propagation finds no uncertainty; to second order there is one.`
        : `${quantity.name} bends within the uncertainty of ${listNames([...bent])}: the second-order part is ${Math.round(share)} % of the linear uncertainty.`;
    return [warning('not-linear', place, message, 'Propagate by draws: --monte-carlo adaptive.')];
  });
}
