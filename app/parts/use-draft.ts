import { useCallback, useEffect, useId, useRef, useState } from 'react';
import type { LabEdit } from '../../src/edit/index.ts';
import type { Path } from '../../src/lab/index.ts';
import type { Problem } from '../../src/problem/index.ts';
import { readText } from '../bench/reading.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';

/** How long a person must have stopped typing before the text is checked and taken. */
const PAUSE = 350;

export interface DraftOptions {
  /** What the file has now. */
  readonly written: string;
  /** The part of the file that the field stands for; its messages are shown beside the field. */
  readonly at: Path;
  /** What is to be done for a text. */
  readonly toEdits: (text: string) => readonly LabEdit[];
  /** 'value of L': the label of the deed is 'value of L to 1.21 m'. */
  readonly what: string;
  /** Whether a text with problems is kept in the field instead of being written: values, not prose. */
  readonly holdsBack: boolean;
}

export interface DraftField {
  readonly text: string;
  readonly problems: readonly Problem[];
  /** Whether the field holds something that the file does not. */
  readonly isHeld: boolean;
  readonly change: (text: string) => void;
  /** Takes the text at once: the field is left, or Enter is pressed. */
  readonly finish: () => void;
  /** Back to what the file has. */
  readonly restore: () => void;
}

/**
 * A field that writes to the lab as it is typed in, and tells at once what is wrong with it, with the messages of the
 * command line. What cannot be taken stays in the field until it is mended.
 */
export function useDraft({ written, at, toEdits, what, holdsBack }: DraftOptions): DraftField {
  const bench = useBench();
  const gesture = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const [held, setHeld] = useState<readonly Problem[]>([]);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const own = useBenchState((state) => state.reading);
  const latest = useRef({ draft, written, at, toEdits, what, holdsBack });
  latest.current = { draft, written, at, toEdits, what, holdsBack };

  const take = useCallback(() => {
    clearTimeout(timer.current);
    const now = latest.current;
    if (now.draft === null) return;
    if (now.draft === now.written) {
      setDraft(null);
      setHeld([]);
      return;
    }
    const edits = now.toEdits(now.draft);
    const tried = bench.tryEdit(edits);
    const found = tried.ok ? errorsIn(tried.value, now.at) : tried.problems;
    if (found.length > 0 && (now.holdsBack || !tried.ok)) {
      setHeld(found);
      return;
    }
    setHeld([]);
    bench.edit(edits, {
      label: now.draft === '' ? `${now.what} taken out` : `${now.what} to ${shortened(now.draft)}`,
      gesture,
    });
  }, [bench, gesture]);

  // Once the file has what was typed, the field shows the file again.
  useEffect(() => {
    if (draft !== null && draft === written) setDraft(null);
  }, [draft, written]);
  useEffect(() => () => clearTimeout(timer.current), []);

  return {
    text: draft ?? written,
    problems: held.length > 0 ? held : own.problemsAt(at),
    isHeld: draft !== null && draft !== written,
    change(text) {
      setDraft(text);
      clearTimeout(timer.current);
      timer.current = setTimeout(take, PAUSE);
    },
    finish() {
      take();
      bench.endGesture();
    },
    restore() {
      clearTimeout(timer.current);
      setDraft(null);
      setHeld([]);
    },
  };
}

function errorsIn(text: string, at: Path): readonly Problem[] {
  return readText(text)
    .problemsAt(at)
    .filter(({ severity }) => severity === 'error');
}

function shortened(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length > 40 ? `${line.slice(0, 38)}…` : line;
}
