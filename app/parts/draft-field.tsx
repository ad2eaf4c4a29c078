import { type KeyboardEvent, useId } from 'react';
import { ProblemList } from './problem-list.tsx';
import { type DraftOptions, useDraft } from './use-draft.ts';

export interface DraftFieldProps extends DraftOptions {
  readonly label: string;
  /** Where the label is said by a column heading or the like, it is only for those who hear the screen. */
  readonly hidesLabel?: boolean;
  /** 'of the wheel gate': behind the label for those who hear the screen and do not see what stands above. */
  readonly whose?: string;
  readonly placeholder?: string;
  /** Several lines of prose. */
  readonly isProse?: boolean;
  /** One line that wraps where it is long, instead of being cut off. */
  readonly wraps?: boolean;
  readonly className?: string;
}

/** A text field of the lab file, written as it is typed in and checked at once. */
export function DraftField(props: DraftFieldProps) {
  const {
    label,
    hidesLabel = false,
    whose,
    placeholder,
    isProse = false,
    wraps = false,
    className = '',
  } = props;
  const field = useDraft(props);
  const id = useId();
  const messages = `${id}-messages`;
  const isWrong = field.problems.some(({ severity }) => severity === 'error');
  const common = {
    id,
    className: `field ${wraps ? 'wraps' : ''} ${className}`,
    value: field.text,
    placeholder,
    'aria-invalid': isWrong,
    'aria-describedby': field.problems.length > 0 ? messages : undefined,
    'data-draft': field.isHeld,
    onBlur: field.finish,
    spellCheck: isProse,
    autoComplete: 'off',
  } as const;
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Escape' && field.isHeld) {
      event.stopPropagation();
      field.restore();
    } else if (event.key === 'Enter' && !isProse) {
      event.preventDefault();
      field.finish();
    }
  };
  return (
    <div className="draft-field">
      <label htmlFor={id} className={hidesLabel ? 'unseen' : 'said'}>
        {label}
        {whose === undefined ? null : <span className="unseen"> {whose}</span>}
      </label>
      {isProse || wraps ? (
        <textarea
          rows={wraps ? 1 : undefined}
          {...common}
          onChange={(event) => field.change(event.target.value)}
          onKeyDown={onKeyDown}
        />
      ) : (
        <input
          {...common}
          type="text"
          onChange={(event) => field.change(event.target.value)}
          onKeyDown={onKeyDown}
        />
      )}
      <ProblemList problems={field.problems} id={messages} hidesPlace />
    </div>
  );
}
