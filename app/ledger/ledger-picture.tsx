import { type CSSProperties, useMemo } from 'react';
import { fromText, joinText, symbolText } from '../../src/figure/index.ts';
import { formatUnit } from '../../src/quantity/index.ts';
import type { GapLedger } from '../../src/reconcile/index.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { Rich } from '../parts/rich.tsx';
import { Toggle } from '../parts/toggle.tsx';
import { type LedgerRow, reachOfRows, rowsOfLedger } from './ledger-rows.ts';

export interface LedgerPictureProps {
  readonly ledger: GapLedger;
  readonly hasUncertainties: boolean;
  readonly isSettled: boolean;
  /** Whether effects can be switched off here. */
  readonly hasSwitches?: boolean;
}

/**
 * The gap ledger as steps from ideal to measured: each effect goes on from where the last one ended, so that one sees
 * which of them carries the gap and whether the last step, what is left, is small against its uncertainty.
 */
export function LedgerPicture({
  ledger,
  hasUncertainties,
  isSettled,
  hasSwitches = true,
}: LedgerPictureProps) {
  const lab = useBenchState((state) => state.lab);
  const rows = useMemo(
    () =>
      rowsOfLedger(
        ledger,
        hasUncertainties,
        lab?.effects.map(({ name }) => name),
      ),
    [ledger, hasUncertainties, lab],
  );
  const reach = useMemo(() => reachOfRows(rows), [rows]);
  const without = useBenchState((state) => state.without);
  const unit = formatUnit(ledger.result.unit);
  const symbol = symbolText(ledger.result.name);
  const heading = unit === '' || unit === '1' ? symbol : joinText(symbol, fromText(` / ${unit}`));
  return (
    <div className="ledger" data-settled={isSettled}>
      <table>
        <caption className="unseen">
          The gap ledger of {ledger.result.name}
          {ledger.group === null ? '' : `, ${ledger.group}`}
        </caption>
        <thead>
          <tr>
            <th scope="col" className="unseen">
              from theory to measurement
            </th>
            <td aria-hidden="true" />
            <th scope="col" className="ledger-number">
              <Rich text={heading} />
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, index) => (
            <RowOf
              key={`${row.kind} ${row.label}`}
              row={row}
              reach={reach}
              hasSwitch={hasSwitches && (row.kind === 'effect' || row.kind === 'off')}
              isOn={!without.has(row.label)}
              joins={rows[index + 1] !== undefined}
              verdict={ledger.remainder?.verdict ?? 'unknown'}
            />
          ))}
        </tbody>
      </table>
      {hasSwitches && without.size > 0 ? (
        <p className="small quiet">Switched off to see what happens; the file is not changed.</p>
      ) : null}
    </div>
  );
}

function RowOf({
  row,
  reach,
  hasSwitch,
  isOn,
  joins,
  verdict,
}: {
  readonly row: LedgerRow;
  readonly reach: readonly [number, number];
  readonly hasSwitch: boolean;
  readonly isOn: boolean;
  readonly joins: boolean;
  readonly verdict: string;
}) {
  const bench = useBench();
  const place = (value: number): number => (100 * (value - reach[0])) / (reach[1] - reach[0]);
  const from = place(row.from);
  const to = place(row.to);
  const u = Number.isFinite(row.standardUncertainty)
    ? (100 * row.standardUncertainty) / (reach[1] - reach[0])
    : 0;
  const direction = row.to === row.from ? 'none' : row.to > row.from ? 'up' : 'down';
  const bar: CSSProperties = { left: `${Math.min(from, to)}%`, width: `${Math.abs(to - from)}%` };
  const toggle = (on: boolean): void => {
    const others = [...bench.getState().without].filter((other) => other !== row.label);
    bench.look(new Set(on ? others : [...others, row.label]));
  };
  const name = <span className="ledger-label">{row.label}</span>;
  return (
    <tr data-kind={row.kind} data-verdict={row.kind === 'remainder' ? verdict : undefined}>
      <th scope="row">
        {hasSwitch ? (
          <Toggle isOn={isOn} onToggle={toggle}>
            {name}
          </Toggle>
        ) : (
          name
        )}
      </th>
      <td className="ledger-track" aria-hidden="true">
        <div className="ledger-lane">
          {row.kind === 'off' ? null : row.from === row.to ? (
            <span className="ledger-total moves" style={{ left: `${to}%` }} />
          ) : (
            <span className="ledger-bar moves" data-direction={direction} style={bar} />
          )}
          {u > 0 ? (
            <span className="ledger-whisker moves" style={{ left: `${to - u}%`, width: `${2 * u}%` }} />
          ) : null}
          {joins && row.kind !== 'theory' && row.kind !== 'measured' ? (
            <span className="ledger-join moves" style={{ left: `${to}%` }} />
          ) : null}
        </div>
      </td>
      <td className="ledger-number">
        <Rich text={fromText(row.printed)} />
      </td>
    </tr>
  );
}
