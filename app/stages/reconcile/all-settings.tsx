import type { GapLedger } from '../../../src/reconcile/index.ts';
import { Value } from '../../ledger/say-ledger.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';

/** All settings of one result below each other; the one in view can be chosen. */
export function AllSettings({
  ledgers,
  current,
  hasUncertainties,
  onChoose,
}: {
  readonly ledgers: readonly GapLedger[];
  readonly current: GapLedger;
  readonly hasUncertainties: boolean;
  readonly onChoose: (ledger: GapLedger) => void;
}) {
  const u = (value: number): number | null => (hasUncertainties ? value : null);
  return (
    <section aria-labelledby="settings-heading">
      <h2 id="settings-heading">All settings</h2>
      <div {...scrollsByKeys('All settings')}>
        <table className="settings-table">
          <thead>
            <tr>
              <th scope="col">setting</th>
              <th scope="col" className="number">
                full model
              </th>
              <th scope="col" className="number">
                measured
              </th>
              <th scope="col" className="number">
                left
              </th>
              <th scope="col">verdict</th>
            </tr>
          </thead>
          <tbody>
            {ledgers.map((ledger) => (
              <tr key={ledger.group} data-current={ledger === current}>
                <th scope="row">
                  <button
                    type="button"
                    className="button plain"
                    aria-pressed={ledger === current}
                    onClick={() => onChoose(ledger)}
                  >
                    {ledger.group}
                  </button>
                </th>
                <td className="number">
                  <Value si={ledger.full.value} u={u(ledger.full.standardUncertainty)} ledger={ledger} />
                </td>
                <td className="number">
                  {ledger.measured === null ? (
                    '–'
                  ) : (
                    <Value
                      si={ledger.measured.value}
                      u={u(ledger.measured.standardUncertainty)}
                      ledger={ledger}
                    />
                  )}
                </td>
                <td className="number">
                  {ledger.remainder === null ? (
                    '–'
                  ) : (
                    <Value
                      si={ledger.remainder.value}
                      u={u(ledger.remainder.standardUncertainty)}
                      ledger={ledger}
                      as="interval"
                    />
                  )}
                </td>
                <td>
                  <span className="verdict-tag" data-verdict={ledger.remainder?.verdict}>
                    {ledger.remainder?.verdict ?? 'not measured'}
                  </span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
