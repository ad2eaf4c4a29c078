import { textAt } from '../../bench/plain.ts';
import type { SeenRun } from '../../compute/tasks/trials.ts';
import { ProblemList } from '../../parts/problem-list.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { RunDetail } from './run-detail.tsx';

/** One run in a line: what it is called, under which settings, and what it gives; opened, everything about it. */
export function RunRow({
  index,
  form,
  seen,
  isOpen,
  onToggle,
  onGone,
}: {
  readonly index: number;
  readonly form: unknown;
  readonly seen: SeenRun | null;
  readonly isOpen: boolean;
  readonly onToggle: () => void;
  readonly onGone: () => void;
}) {
  const name = seen?.name ?? textAt(form, ['name']) ?? textAt(form, ['file']) ?? `run ${index + 1}`;
  const errors = seen?.problems.filter(({ severity }) => severity === 'error') ?? [];
  const state = seen?.setAside != null ? 'aside' : errors.length > 0 ? 'fails' : 'used';
  return (
    <li className="run-row" data-state={state}>
      <button type="button" className="run-line" aria-expanded={isOpen} onClick={onToggle}>
        <span className="run-name">{name}</span>
        <span className="run-settings small quiet">{seen?.settings}</span>
        <span className="run-says">
          {state === 'aside' ? (
            <span className="quiet">set aside: {seen?.setAside}</span>
          ) : state === 'fails' ? (
            <span className="run-fails">gives no result</span>
          ) : (
            seen?.results.map((result) => (
              <span key={result.name} className="run-result">
                <SymbolName name={result.name} /> = {result.says}
              </span>
            ))
          )}
        </span>
      </button>
      {isOpen ? null : <ProblemList problems={errors} />}
      {isOpen ? <RunDetail index={index} name={name} form={form} seen={seen} onGone={onGone} /> : null}
    </li>
  );
}
