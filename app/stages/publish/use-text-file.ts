import { useCallback, useEffect, useRef, useState } from 'react';
import { type Problem, problem } from '../../../src/problem/index.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { sayNoAnswer } from '../../link/publishing.ts';
import { fetchText, writeText } from '../../link/server.ts';

/** How long a person must have stopped typing before a text is written. */
const PAUSE = 600;

export interface TextFile {
  /** Null until it was fetched. */
  readonly text: string | null;
  readonly isThere: boolean;
  /** Whether something was typed that the file does not have yet. */
  readonly isHeld: boolean;
  readonly problems: readonly Problem[];
  /** What another hand wrote meanwhile; nothing is written until a person has chosen. */
  readonly theirs: string | null;
  readonly write: (text: string) => void;
  readonly settle: (whose: 'mine' | 'theirs') => void;
}

interface Held {
  readonly text: string;
  readonly digest: string | null;
}

/** A text of the author, kept in step with its file: written as it is typed, and read again when another hand changes it. */
export function useTextFile(path: string): TextFile {
  const bench = useBench();
  const id = useBenchState((state) => state.id);
  const digest = useBenchState(({ files }) => files.find((file) => file.path === path)?.digest ?? null);
  const [base, setBase] = useState<Held | null>(null);
  const [draft, setDraft] = useState<string | null>(null);
  const [clash, setClash] = useState<Held | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const now = useRef({ base, draft, clash });
  now.current = { base, draft, clash };
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);

  const save = useCallback(async () => {
    clearTimeout(timer.current);
    const { base: from, draft: text, clash: other } = now.current;
    if (from === null || text === null || other !== null || text === from.text) return;
    const answer = await writeText(id, path, text, from.digest);
    if (answer.kind === 'ok') {
      setBase({ text, digest: answer.value.digest });
      setDraft((latest) => (latest === text ? null : latest));
      setProblems([]);
      await bench.refreshFiles();
    } else if (answer.kind === 'changed') {
      const fresh = await fetchText(id, path);
      if (fresh.kind === 'ok') setClash(fresh.value);
    } else {
      setProblems(sayNoAnswer(answer));
      if (answer.kind === 'unreachable') timer.current = setTimeout(() => void save(), 2000);
    }
  }, [bench, id, path]);

  // What is in the file comes in, unless something is being typed: then the writing will find the clash.
  useEffect(() => {
    const { base: known, draft: typed } = now.current;
    if (typed !== null || (known !== null && known.digest === digest)) return;
    if (digest === null) {
      setBase({ text: '', digest: null });
      return;
    }
    let isGone = false;
    void fetchText(id, path).then((answer) => {
      if (isGone) return;
      if (answer.kind === 'ok') setBase(answer.value);
      else setProblems(sayNoAnswer(answer));
    });
    return () => {
      isGone = true;
    };
  }, [id, path, digest]);

  // Whoever leaves the screen has finished typing.
  useEffect(() => () => void save(), [save]);

  return {
    text: draft ?? base?.text ?? null,
    isThere: digest !== null,
    isHeld: draft !== null,
    problems: clash === null ? problems : [changedMeanwhile(path)],
    theirs: clash?.text ?? null,
    write(text) {
      setDraft(text);
      clearTimeout(timer.current);
      timer.current = setTimeout(() => void save(), PAUSE);
    },
    settle(whose) {
      if (clash === null) return;
      setBase(clash);
      setClash(null);
      if (whose === 'theirs') setDraft(null);
      else timer.current = setTimeout(() => void save(), 0);
    },
  };
}

function changedMeanwhile(path: string): Problem {
  return problem('changed-meanwhile', { file: path }, `"${path}" has been changed meanwhile.`);
}
