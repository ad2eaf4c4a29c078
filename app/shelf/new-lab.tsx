import { type FormEvent, useId, useState } from 'react';
import type { Problem } from '../../src/problem/index.ts';
import type { ShelvedLab } from '../link/forms.ts';
import { sayNoAnswer } from '../link/publishing.ts';
import { createLab } from '../link/server.ts';
import { Choice } from '../parts/choice.tsx';
import { ProblemList } from '../parts/problem-list.tsx';
import { goTo } from '../shell/route.ts';

/** Makes a lab of one's own, with little in it or as a copy of another, and opens it. */
export function NewLab({ labs }: { readonly labs: readonly ShelvedLab[] }) {
  const id = useId();
  const [name, setName] = useState('');
  const [from, setFrom] = useState('');
  const [isBusy, setBusy] = useState(false);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const make = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    setBusy(true);
    const made = await createLab(from === '' ? null : from, name.trim());
    setBusy(false);
    if (made.kind === 'ok') goTo({ kind: 'lab', id: made.value.id, stage: 'question' });
    else setProblems(sayNoAnswer(made));
  };
  return (
    <form className="new-lab" onSubmit={(event) => void make(event)} aria-labelledby={`${id}-heading`}>
      <h2 id={`${id}-heading`}>A new lab</h2>
      <div className="new-lab-fields">
        <div>
          <label className="said" htmlFor={id}>
            Name of its folder
          </label>
          <input
            id={id}
            className="field"
            value={name}
            placeholder="falling-cups"
            autoComplete="off"
            aria-invalid={problems.length > 0}
            aria-describedby={`${id}-problems`}
            onChange={(event) => setName(event.target.value)}
          />
        </div>
        <Choice
          label="Begun from"
          value={from}
          options={[
            { value: '', says: 'a small lab to be changed' },
            ...labs.map((lab) => ({ value: lab.id, says: lab.title })),
          ]}
          onChoose={setFrom}
        />
        <button type="submit" className="button" disabled={isBusy || name.trim() === ''}>
          Make it
        </button>
      </div>
      <div aria-live="polite">
        <ProblemList id={`${id}-problems`} problems={problems} hidesPlace />
      </div>
    </form>
  );
}
