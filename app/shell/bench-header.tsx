import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { RouteLink } from './route-link.tsx';
import { SavingWord } from './saving-word.tsx';
import { ThemeSwitch } from './theme-switch.tsx';

/** The lab's name, what was done last and can be undone, and where the edits are. */
export function BenchHeader({
  title,
  textId,
  showsText,
  onShowText,
}: {
  readonly title: string;
  /** Of the panel that has the lab file as text. */
  readonly textId: string;
  readonly showsText: boolean;
  readonly onShowText: (shows: boolean) => void;
}) {
  const bench = useBench();
  const last = useBenchState(({ history }) => history.past.at(-1)?.label);
  const next = useBenchState(({ history }) => history.future[0]?.label);
  return (
    <header className="bench-header">
      <RouteLink to={{ kind: 'shelf' }} className="to-shelf">
        <svg viewBox="0 0 32 32" width="22" height="22" aria-hidden="true">
          <path
            d="M6 9h9v5h6v5h-3v5"
            fill="none"
            stroke="currentColor"
            strokeWidth="2.4"
            strokeLinejoin="round"
            strokeLinecap="round"
          />
          <circle cx="25" cy="24" r="2.6" fill="currentColor" />
        </svg>
        <span>All labs</span>
      </RouteLink>
      <p className="bench-title">{title}</p>
      <div className="deeds">
        <SavingWord />
        <button
          type="button"
          className="button plain"
          disabled={last === undefined}
          title={last === undefined ? 'Nothing to undo' : `Undo: ${last} (Ctrl+Z)`}
          onClick={() => bench.undo()}
        >
          Undo
          {last === undefined ? null : <span className="unseen">: {last}</span>}
        </button>
        <button
          type="button"
          className="button plain"
          disabled={next === undefined}
          title={next === undefined ? 'Nothing to do again' : `Do again: ${next} (Ctrl+Shift+Z)`}
          onClick={() => bench.redo()}
        >
          Redo
          {next === undefined ? null : <span className="unseen">: {next}</span>}
        </button>
        <button
          type="button"
          className="button plain"
          aria-expanded={showsText}
          aria-controls={showsText ? textId : undefined}
          onClick={() => onShowText(!showsText)}
        >
          As text
        </button>
        <ThemeSwitch />
      </div>
    </header>
  );
}
