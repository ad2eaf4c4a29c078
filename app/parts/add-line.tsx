import { type KeyboardEvent, useId, useState } from 'react';

/** A field that adds what is typed into it to a list, when it is left or Enter is pressed. */
export function AddLine({
  label,
  onAdd,
}: {
  readonly label: string;
  readonly onAdd: (text: string) => void;
}) {
  const id = useId();
  const [text, setText] = useState('');
  const add = (): void => {
    if (text.trim() !== '') onAdd(text.trim());
    setText('');
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Enter') add();
  };
  return (
    <div className="add-line">
      <label htmlFor={id} className="said">
        {label}
      </label>
      <input
        id={id}
        className="field"
        value={text}
        data-draft={text !== ''}
        onChange={(event) => setText(event.target.value)}
        onKeyDown={onKeyDown}
        onBlur={add}
      />
    </div>
  );
}
