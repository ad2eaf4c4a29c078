import { useEffect, useState } from 'react';
import type { Problem } from '../../src/problem/index.ts';
import { problem } from '../../src/problem/index.ts';
import { listenToServer } from '../link/events.ts';
import type { Shelf } from '../link/forms.ts';
import { fetchShelf } from '../link/server.ts';
import { ProblemList } from '../parts/problem-list.tsx';
import { goTo } from '../shell/route.ts';
import { RouteLink } from '../shell/route-link.tsx';
import { ThemeSwitch } from '../shell/theme-switch.tsx';
import { LabPicture } from './lab-picture.tsx';
import { NewLab } from './new-lab.tsx';

/** The command may name a lab: then the first look at the shelf leads on to it. */
let isFirstLook = true;

/** The labs that can be opened. */
export function ShelfScreen() {
  const [shelf, setShelf] = useState<Shelf | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  useEffect(() => {
    document.title = 'Benchwright';
    const look = async (): Promise<void> => {
      const answer = await fetchShelf();
      if (answer.kind === 'ok') {
        setShelf(answer.value);
        const { opened } = answer.value;
        if (opened !== null && isFirstLook) goTo({ kind: 'lab', id: opened, stage: 'question' }, 'replace');
        isFirstLook = false;
        setProblems([]);
      } else if (answer.kind === 'refused') setProblems(answer.problems);
      else setProblems([problem('server-gone', {}, 'The bench’s server does not answer.')]);
    };
    void look();
    return listenToServer({
      heard: (event) => void (event.kind === 'shelf' ? look() : undefined),
      presence: (isThere) => void (isThere ? look() : undefined),
    });
  }, []);
  return (
    <main className="shelf">
      <header className="shelf-head">
        <h1>Labs</h1>
        <ThemeSwitch />
      </header>
      <ProblemList problems={problems} />
      <ul className="shelf-labs">
        {shelf?.labs.map((lab) => (
          <li key={lab.id}>
            <LabPicture lab={lab} />
            <h2>
              <RouteLink to={{ kind: 'lab', id: lab.id, stage: 'question' }}>{lab.title}</RouteLink>
            </h2>
            <p>{lab.question}</p>
            <p className="small quiet">{lab.mine ? lab.folder : 'came with Benchwright'}</p>
          </li>
        ))}
      </ul>
      {shelf === null ? null : <NewLab labs={shelf.labs} />}
    </main>
  );
}
