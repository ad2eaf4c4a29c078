import { formatNumber, formatUnit, fromSI } from '../../../src/quantity/index.ts';
import type { Closing, GapLedger } from '../../../src/reconcile/index.ts';
import { useBench } from '../../bench/use-bench.tsx';
import { SymbolName } from '../../parts/rich.tsx';

/** More are not worth a reader's time. */
const MOST = 3;

/** What change of one quantity would close what is left, and the way to try it. */
export function Closings({ ledger: { remainder } }: { readonly ledger: GapLedger }) {
  const bench = useBench();
  if (remainder === null) return null;
  // Where nothing is left to explain, changes beyond the stated uncertainties would only mislead.
  const changes = remainder.closing
    .filter(({ plausible }) => plausible || remainder.verdict !== 'explained')
    .slice(0, MOST);
  if (changes.length === 0) return null;
  const take = (closing: Closing): void => {
    const { quantity } = closing;
    const to = `${print(closing, closing.needed).replace('−', '-')} ${quantity.unit.text}`.trim();
    bench.edit([{ kind: 'set', at: ['quantities', quantity.name, 'value'], to }], {
      label: `${quantity.name} to ${to}`,
    });
  };
  return (
    <div className="closings">
      <h3>What would close it, each alone</h3>
      <ul>
        {changes.map((closing) => {
          const { quantity, needed, inUncertainties, plausible } = closing;
          const unit = formatUnit(quantity.unit);
          return (
            <li key={quantity.name}>
              <span>
                {quantity.is} <SymbolName name={quantity.name} />: {print(closing, needed)} {unit} instead of{' '}
                {print(closing, quantity.estimate.value)} {unit}
                <span className="quiet">
                  {' '}
                  ({formatNumber(Math.abs(inUncertainties), { significant: 2 })} u
                  {plausible ? '' : ', more than its stated uncertainty allows'})
                </span>
              </span>
              <button type="button" className="button plain small" onClick={() => take(closing)}>
                Try it<span className="unseen"> with {quantity.name}</span>
              </button>
            </li>
          );
        })}
      </ul>
    </div>
  );
}

/** One digit more than the uncertainty begins with: enough to see the change, no more than it is known to. */
function print({ quantity }: Closing, si: number): string {
  const step = fromSI(quantity.estimate.standardUncertainty, quantity.unit, 'interval');
  const decimals = Math.max(0, 1 - Math.floor(Math.log10(step)));
  return formatNumber(fromSI(si, quantity.unit, 'point'), decimals > 6 ? { significant: 3 } : { decimals });
}
