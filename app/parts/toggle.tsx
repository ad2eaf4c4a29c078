import { type ReactNode, useId } from 'react';

/** A switch: on or off, said by its place and its fill. */
export function Toggle({
  isOn,
  onToggle,
  children,
  hidesLabel = false,
}: {
  readonly isOn: boolean;
  readonly onToggle: (isOn: boolean) => void;
  readonly children: ReactNode;
  readonly hidesLabel?: boolean;
}) {
  const id = useId();
  return (
    <span className="toggle">
      <input
        id={id}
        type="checkbox"
        role="switch"
        aria-checked={isOn}
        checked={isOn}
        onChange={(event) => onToggle(event.target.checked)}
      />
      <label htmlFor={id} className={hidesLabel ? 'unseen' : ''}>
        {children}
      </label>
    </span>
  );
}
