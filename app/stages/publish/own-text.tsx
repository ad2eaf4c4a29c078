import { useId, useState } from 'react';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Waiting } from '../../parts/waiting.tsx';
import {
  addPassage,
  headingOfSection,
  type Passage,
  passagesIn,
  removePassage,
  SECTIONS,
  type TextName,
  writePassage,
} from './passages.ts';
import { type TextFile, useTextFile } from './use-text-file.ts';

/** The sections of one document in their order: drafted, or with a passage of the author that can be written here. */
export function OwnText({
  path,
  name,
  language,
  isFixed,
}: {
  readonly path: string;
  readonly name: TextName;
  readonly language: 'en' | 'de';
  readonly isFixed: boolean;
}) {
  const file = useTextFile(path);
  const { text } = file;
  const [open, setOpen] = useState<string | null>(null);
  if (text === null) return file.problems.length > 0 ? <ProblemList problems={file.problems} /> : <Waiting />;
  const passages = passagesIn(text, name);
  return (
    <>
      <p className="small quiet">
        {file.isThere ? path : `${path} is made when you write the first passage`}
        {file.isHeld ? ' · being written …' : ''}
      </p>
      <ProblemList problems={file.problems} />
      {file.theirs === null ? null : <Clash file={file} />}
      <ol className="passages">
        {inOrder(name, passages).map(({ id, passage }) => (
          <PassageRow
            key={id}
            heading={passage?.heading ?? headingOfSection(id, language)}
            passage={passage}
            isOpen={open === id}
            isFixed={isFixed}
            onOpen={() => setOpen(open === id ? null : id)}
            onAdd={() => {
              file.write(addPassage(text, name, id, headingOfSection(id, language)));
              setOpen(id);
            }}
            onWrite={(body) => {
              if (passage !== null) file.write(writePassage(text, passage, body));
            }}
            onRemove={() => {
              if (passage !== null) file.write(removePassage(text, passage));
              setOpen(null);
            }}
          />
        ))}
      </ol>
      <WholeText file={file} isFixed={isFixed} path={path} />
    </>
  );
}

interface Row {
  readonly id: string;
  readonly passage: Passage | null;
}

/** Drafted sections in their order, and behind the one that it follows each section of the author's own. */
function inOrder(name: TextName, passages: readonly Passage[]): readonly Row[] {
  const rows: Row[] = SECTIONS[name].map((id) => ({
    id,
    passage: passages.find((passage) => passage.id === id) ?? null,
  }));
  let last = -1;
  for (const passage of passages) {
    const at = rows.findIndex(({ id }) => id === passage.id);
    if (at >= 0) {
      last = at;
      continue;
    }
    last += 1;
    rows.splice(last, 0, { id: passage.id, passage });
  }
  return rows;
}

function PassageRow({
  heading,
  passage,
  isOpen,
  isFixed,
  onOpen,
  onAdd,
  onWrite,
  onRemove,
}: {
  readonly heading: string;
  readonly passage: Passage | null;
  readonly isOpen: boolean;
  readonly isFixed: boolean;
  readonly onOpen: () => void;
  readonly onAdd: () => void;
  readonly onWrite: (body: string) => void;
  readonly onRemove: () => void;
}) {
  const isOwn = passage !== null && passage.body !== '';
  return (
    <li className="passage" data-own={isOwn}>
      <span className="passage-heading">{heading}</span>
      <span className="small quiet">{sayWhose(passage)}</span>
      <span className="passage-deeds">
        {passage === null ? (
          <button type="button" className="button plain small" disabled={isFixed} onClick={onAdd}>
            Write it yourself<span className="unseen"> under {heading}</span>
          </button>
        ) : (
          <>
            <button type="button" className="button plain small" aria-expanded={isOpen} onClick={onOpen}>
              {isOpen ? 'Done' : isFixed ? 'Read' : 'Change'}
              <span className="unseen"> {heading}</span>
            </button>
            <button type="button" className="button plain small" disabled={isFixed} onClick={onRemove}>
              Back to the draft<span className="unseen"> under {heading}</span>
            </button>
          </>
        )}
      </span>
      {passage !== null && isOpen ? (
        <Editor label={`Passage “${heading}”`} text={passage.body} isFixed={isFixed} onWrite={onWrite} />
      ) : null}
    </li>
  );
}

function sayWhose(passage: Passage | null): string {
  if (passage === null || passage.body === '') return 'from the draft';
  return passage.hasDraft ? 'your words, with the draft' : 'your words';
}

/** A field of prose that keeps what is typed as it is typed: the passage in the file has no blanks at its ends. */
function Editor({
  label,
  text,
  isFixed,
  onWrite,
}: {
  readonly label: string;
  readonly text: string;
  readonly isFixed: boolean;
  readonly onWrite: (text: string) => void;
}) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const shown = typed !== null && typed.trim() === text ? typed : text;
  return (
    <div className="passage-editor">
      <label htmlFor={id} className="unseen">
        {label}
      </label>
      <textarea
        id={id}
        className="field"
        value={shown}
        readOnly={isFixed}
        spellCheck
        onChange={(event) => {
          setTyped(event.target.value);
          onWrite(event.target.value);
        }}
      />
    </div>
  );
}

function WholeText({
  file,
  isFixed,
  path,
}: {
  readonly file: TextFile;
  readonly isFixed: boolean;
  readonly path: string;
}) {
  return (
    <details className="whole-text">
      <summary>All of it as text</summary>
      <Editor label={`All of ${path}`} text={file.text ?? ''} isFixed={isFixed} onWrite={file.write} />
    </details>
  );
}

function Clash({ file }: { readonly file: TextFile }) {
  return (
    <div className="bar" data-tone="doubt">
      <p>Another hand changed this text while you wrote. Nothing is written until you choose.</p>
      <details>
        <summary>What is in the file</summary>
        <pre>{file.theirs}</pre>
      </details>
      <button type="button" className="button" onClick={() => file.settle('mine')}>
        Keep mine
      </button>
      <button type="button" className="button" onClick={() => file.settle('theirs')}>
        Take what is in the file
      </button>
    </div>
  );
}
