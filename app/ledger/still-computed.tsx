import { useLedgers } from './ledger-provider.tsx';

/** Says that there is more to come: the shares are there at once, uncertainties take longer in some labs. */
export function StillComputed() {
  const { answer, hasUncertainties, isSettled, isWorking, done } = useLedgers();
  const isComing = answer !== null && !isSettled && isWorking;
  const share = done === null ? '' : `, ${Math.round(100 * done)} % done`;
  return (
    <p className="still-computed small quiet" aria-live="off">
      {!isComing
        ? ''
        : hasUncertainties
          ? `Uncertainties are of a moment ago; new ones are on their way${share} …`
          : `Shares are there; their uncertainties are being worked out${share} …`}
    </p>
  );
}
