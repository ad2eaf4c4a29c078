/** Moves an entry of a list one place up or down. */
export function MoveButtons({
  said,
  index,
  count,
  onMove,
}: {
  /** What is moved, for those who hear the screen. */
  readonly said: string;
  readonly index: number;
  readonly count: number;
  readonly onMove: (to: number) => void;
}) {
  const ways = [
    { says: 'Earlier', to: index - 1 },
    { says: 'Later', to: index + 1 },
  ];
  return ways.map(({ says, to }) => (
    <button
      key={says}
      type="button"
      className="button plain small"
      disabled={to < 0 || to >= count}
      onClick={() => onMove(to)}
    >
      {says}
      <span className="unseen">: {said}</span>
    </button>
  ));
}
