import { useId } from 'react';

/** One of a few, in words. */
export function Choice<T extends string>({
  label,
  hidesLabel = false,
  whose,
  value,
  options,
  onChoose,
  className = '',
}: {
  readonly label: string;
  readonly hidesLabel?: boolean;
  /** Behind the label for those who hear the screen. */
  readonly whose?: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly says: string }[];
  readonly onChoose: (value: T) => void;
  readonly className?: string;
}) {
  const id = useId();
  return (
    <div className="choice">
      <label htmlFor={id} className={hidesLabel ? 'unseen' : 'said'}>
        {label}
        {whose === undefined ? null : <span className="unseen"> {whose}</span>}
      </label>
      <select
        id={id}
        className={`field ${className}`}
        value={value}
        onChange={(event) => {
          const chosen = options.find((option) => option.value === event.target.value);
          if (chosen !== undefined) onChoose(chosen.value);
        }}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.says}
          </option>
        ))}
      </select>
    </div>
  );
}
