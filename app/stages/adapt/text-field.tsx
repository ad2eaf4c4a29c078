import { useId } from 'react';

/** A short field with its label above it. */
export function TextField({
  label,
  value,
  onChange,
  isWide = false,
}: {
  readonly label: string;
  readonly value: string;
  readonly onChange: (text: string) => void;
  readonly isWide?: boolean;
}) {
  const id = useId();
  return (
    <div className="draft-field">
      <label htmlFor={id} className="said">
        {label}
      </label>
      <input
        id={id}
        className={isWide ? 'field' : 'field short'}
        value={value}
        autoComplete="off"
        spellCheck={false}
        onChange={(event) => onChange(event.target.value)}
      />
    </div>
  );
}
