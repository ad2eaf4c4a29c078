import { formatNumber } from '../../../src/quantity/index.ts';
import type { LedgerMethod } from '../../../src/reconcile/index.ts';

/** How the uncertainties were found, as JCGM 101 wants it told. */
export function Method({
  method,
  isSettled,
}: {
  readonly method: LedgerMethod | null;
  readonly isSettled: boolean;
}) {
  if (!isSettled || method === null)
    return <p className="quiet small">Uncertainties are being found anew …</p>;
  const draws = `${method.draws} quasi-random draws of all uncertain quantities`;
  if (method.kind === 'draws of the model') {
    return (
      <p className="quiet small">
        Uncertainties are standard uncertainties, from {draws}, each run through the model, because{' '}
        {method.because}.
        {method.failed > 0 ? ` ${method.failed} of them left the model’s domain and are not counted.` : ''}
      </p>
    );
  }
  return (
    <p className="quiet small">
      Uncertainties are standard uncertainties, from {draws} through the model’s second-order response
      {method.checked === 0
        ? ''
        : `, checked on ${method.checked} draws of the model itself (differs by at most ${formatNumber(method.worstDisagreement, { significant: 2 })} u)`}
      .
    </p>
  );
}
