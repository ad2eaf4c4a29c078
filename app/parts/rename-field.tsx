import { type KeyboardEvent, useId, useState } from 'react';
import { type EditPlace, renameEntry } from '../../src/edit/index.ts';
import { type Problem, problem } from '../../src/problem/index.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { ProblemList } from './problem-list.tsx';

/**
 * Gives something another name, when Enter is pressed or the field is left; what cannot be one stays, with the reason.
 * A button until it is wanted.
 */
function RenameField({
  name,
  rename,
}: {
  readonly name: string;
  readonly rename: (to: string) => readonly Problem[];
}) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const leave = (): void => {
    setTyped(null);
    setProblems([]);
  };
  const take = (): void => {
    const to = typed?.trim() ?? name;
    const found = to === name ? [] : rename(to);
    if (found.length === 0) leave();
    else setProblems(found);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') take();
    else if (event.key === 'Escape') {
      event.stopPropagation();
      leave();
    }
  };
  if (typed === null)
    return (
      <button type="button" className="button plain small" onClick={() => setTyped(name)}>
        Rename<span className="unseen"> {name}</span>
      </button>
    );
  return (
    <div className="draft-field rename">
      <label htmlFor={id} className="unseen">
        New name of {name}
      </label>
      <input
        id={id}
        className="field"
        value={typed}
        // biome-ignore lint/a11y/noAutofocus: the person has just asked for this field, and it takes the place of the button.
        autoFocus
        autoComplete="off"
        spellCheck={false}
        data-draft
        aria-invalid={problems.length > 0}
        aria-describedby={problems.length > 0 ? `${id}-messages` : undefined}
        onChange={(event) => setTyped(event.target.value)}
        onKeyDown={onKeyDown}
        onBlur={take}
      />
      <ProblemList problems={problems} id={`${id}-messages`} hidesPlace />
    </div>
  );
}

/** Gives a symbol another name in the lab and in the author's texts. */
export function RenameSymbol({ name }: { readonly name: string }) {
  const bench = useBench();
  const hasForeignTexts = useBenchState(
    ({ mine, files }) => !mine && files.some(({ path }) => /^text\/.*\.md$/.test(path)),
  );
  return (
    <RenameField
      name={name}
      rename={(to) => (hasForeignTexts ? [keepFirst(name)] : bench.renameSymbol(name, to))}
    />
  );
}

function keepFirst(name: string): Problem {
  const message = `Texts of this lab name ${name} too, and they came with Benchwright.`;
  return problem('not-mine', {}, message, 'Keep a copy of the lab first; there the texts follow.');
}

/** Gives an entry of the file another name, wherever the file speaks of it. */
export function RenameEntry({ at }: { readonly at: EditPlace }) {
  const bench = useBench();
  const name = String(at[at.length - 1]);
  return (
    <RenameField
      name={name}
      rename={(to) => {
        const text = renameEntry(bench.getState().history.present, at, to);
        if (!text.ok) return text.problems;
        bench.setText(text.value, { label: `${name} is called ${to}` });
        return [];
      }}
    />
  );
}
