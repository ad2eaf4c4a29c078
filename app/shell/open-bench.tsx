import { useEffect, useState } from 'react';
import { mergeLabTexts, renameInProse } from '../../src/edit/index.ts';
import type { Problem } from '../../src/problem/index.ts';
import { problem } from '../../src/problem/index.ts';
import { BenchStore } from '../bench/bench-store.ts';
import { withMine } from '../bench/choose-mine.ts';
import { keepDrafts } from '../bench/draft.ts';
import type { Renamed } from '../bench/history.ts';
import { LAB_FILE } from '../bench/lab-file.ts';
import { BenchProvider } from '../bench/use-bench.tsx';
import { LedgerProvider } from '../ledger/ledger-provider.tsx';
import type { Answer } from '../link/answer.ts';
import { listenToServer } from '../link/events.ts';
import { fetchLabHead, fetchText, writeText } from '../link/server.ts';
import { ProblemList } from '../parts/problem-list.tsx';
import { BenchFrame } from './bench-frame.tsx';
import { RouteLink } from './route-link.tsx';

type Opening =
  | { readonly kind: 'opening' }
  | { readonly kind: 'open'; readonly store: BenchStore }
  | { readonly kind: 'failed'; readonly problems: readonly Problem[] };

/** Fetches a lab, keeps it in step with the server, and shows the stage asked for. */
export function OpenBench({ id, stage }: { readonly id: string; readonly stage: string }) {
  const [opening, setOpening] = useState<Opening>({ kind: 'opening' });
  const [isServerThere, setServerThere] = useState(true);

  useEffect(() => {
    let isGone = false;
    let store: BenchStore | null = null;
    const open = async (): Promise<void> => {
      const opened = await openStore(id);
      if (isGone) return;
      if ('problems' in opened) {
        setOpening({ kind: 'failed', problems: opened.problems });
        return;
      }
      store = opened;
      setOpening({ kind: 'open', store });
    };
    const stop = listenToServer({
      heard: (event) => void store?.hear(event),
      presence(isThere) {
        setServerThere(isThere);
        if (isThere) void (store === null ? undefined : store.meet());
      },
    });
    void open();
    return () => {
      isGone = true;
      stop();
    };
  }, [id]);

  if (opening.kind === 'opening') {
    return (
      <main className="opening">
        <h1>Opening the lab …</h1>
      </main>
    );
  }
  if (opening.kind === 'failed') {
    return (
      <main className="opening stack">
        <h1>This lab cannot be opened</h1>
        <ProblemList problems={opening.problems} />
        <p>
          <RouteLink to={{ kind: 'shelf' }}>Back to the shelf of labs</RouteLink>
        </p>
      </main>
    );
  }
  return (
    <BenchProvider store={opening.store}>
      <LedgerProvider>
        <BenchFrame stage={stage} isServerThere={isServerThere} />
      </LedgerProvider>
    </BenchProvider>
  );
}

async function openStore(id: string): Promise<BenchStore | { readonly problems: readonly Problem[] }> {
  const [head, file] = await Promise.all([fetchLabHead(id), fetchText(id, LAB_FILE)]);
  if (head.kind !== 'ok') return { problems: whyNot(head) };
  if (file.kind !== 'ok') return { problems: whyNot(file) };
  // One after the other: each begins with what the one before it wrote.
  let renaming = Promise.resolve();
  return new BenchStore(head.value, file.value, {
    fetchHead: () => fetchLabHead(id),
    fetchFile: () => fetchText(id, LAB_FILE),
    writeFile: (text, known) => writeText(id, LAB_FILE, text, known),
    async writeCopy(copy, base, text) {
      const fresh = await fetchText(copy, LAB_FILE);
      if (fresh.kind !== 'ok') return whyNot(fresh)[0]?.message ?? '';
      const merged = withMine(mergeLabTexts(base, text, fresh.value.text));
      const written = await writeText(copy, LAB_FILE, merged, fresh.value.digest);
      if (written.kind === 'ok') return null;
      return (
        whyNot(written)[0]?.message ?? 'The copy is there, but the changes could not be written into it.'
      );
    },
    renameInTexts(renamed) {
      renaming = renaming.then(() => renameInTexts(id, renamed));
      return renaming;
    },
    drafts: keepDrafts(head.value.folder, localStorage),
    later(milliseconds, call) {
      const timer = setTimeout(call, milliseconds);
      return () => clearTimeout(timer);
    },
  });
}

/** Gives a symbol another name in the author's texts; a lab that came with the program keeps its own. */
async function renameInTexts(id: string, { from, to }: Renamed): Promise<void> {
  const now = await fetchLabHead(id);
  if (now.kind !== 'ok' || !now.value.mine) return;
  for (const { path } of now.value.files.filter((file) => /^text\/[^/]+\.md$/.test(file.path))) {
    const held = await fetchText(id, path);
    if (held.kind !== 'ok') continue;
    const text = renameInProse(held.value.text, from, to);
    if (text !== held.value.text) await writeText(id, path, text, held.value.digest);
  }
}

function whyNot(answer: Answer<unknown>): readonly Problem[] {
  if (answer.kind === 'refused') return answer.problems;
  return [
    problem(
      'server-gone',
      {},
      'The bench’s server does not answer.',
      'Start it again with "benchwright open" and reload this page.',
    ),
  ];
}
