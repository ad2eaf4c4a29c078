import { useEffect, useMemo, useRef, useState } from 'react';
import type { Problem } from '../../../src/problem/index.ts';
import { listAt } from '../../bench/plain.ts';
import { useBenchState } from '../../bench/use-bench.tsx';
import { fetchPreview, sayNoAnswer, type WritingSettings } from '../../link/publishing.ts';
import { Choice } from '../../parts/choice.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { goToPlace, placeIn } from './kept-place.ts';
import { namesOfDocuments, type Order } from './order.ts';

/** How long nothing must have changed before a document is made anew, ms. */
const PAUSE = 700;

/** One document as it would be published, made anew when the lab or a text changes. */
export function Preview({ order }: { readonly order: Order }) {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const levels = listAt(data, ['level']).filter((level) => typeof level === 'string');
  const documents = namesOfDocuments(levels.length === 0 ? ['algebra'] : levels);
  const [chosen, setChosen] = useState('');
  const document = documents.find(({ value }) => value === chosen) ?? documents[0];
  const name = document?.value ?? '';
  const { page, problems, isWorking } = usePreview(name, order);
  return (
    <section className="preview" aria-labelledby="preview-heading" data-busy={isWorking}>
      <div className="preview-head">
        <h2 id="preview-heading">How it looks</h2>
        <Choice label="Document" hidesLabel value={name} options={documents} onChoose={setChosen} />
        <p className="small quiet" role="status">
          {isWorking ? 'Being made anew …' : ''}
        </p>
      </div>
      <ProblemList problems={problems} />
      {page === null ? (
        <div className="preview-page" />
      ) : (
        <Pages key={page.document} newest={page.address} title={document?.says ?? 'Document'} />
      )}
    </section>
  );
}

/** The newest page of a document, at the place where a person reads; the one before it stays until it is there. */
function Pages({ newest, title }: { readonly newest: string; readonly title: string }) {
  const [shown, setShown] = useState<string | null>(null);
  const frames = useRef(new Map<string, HTMLIFrameElement>());
  const onLoad = (page: string): void => {
    const [before, now] = [frames.current.get(shown ?? ''), frames.current.get(page)];
    const place = before === undefined || before === now ? null : placeIn(before);
    if (place !== null && now !== undefined) goToPlace(now, place);
    setShown(page);
  };
  const pages = shown === null || shown === newest ? [newest] : [shown, newest];
  return (
    <div className="preview-pages">
      {pages.map((page) => (
        // A frame of its own for each page: pages in one frame would fill the way back of the browser.
        <iframe
          key={page}
          ref={(frame) => {
            if (frame === null) frames.current.delete(page);
            else frames.current.set(page, frame);
          }}
          className={page === shown || shown === null ? 'preview-page' : 'preview-coming'}
          title={title}
          // It runs nothing; that the app may look into it keeps the place where a person reads.
          sandbox="allow-same-origin"
          src={page}
          onLoad={() => onLoad(page)}
        />
      ))}
    </div>
  );
}

function usePreview(document: string, { language, paper, decimal, notation }: Order) {
  const id = useBenchState((state) => state.id);
  const labText = useBenchState((state) => state.labText);
  const files = useBenchState((state) => state.files);
  // A document is made of these files too; it is made anew when one of them has another content.
  const made = files
    .filter(({ path }) => /^(text|trials|references)/.test(path))
    .map(({ path, digest }) => `${path} ${digest}`)
    .join('\n');
  const settings = useMemo<WritingSettings>(
    () => ({ language, paper, decimal, notation }),
    [language, paper, decimal, notation],
  );
  const [page, setPage] = useState<{ readonly document: string; readonly address: string } | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [isWorking, setWorking] = useState(true);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the files are read by the server, and named here by their digests.
  useEffect(() => {
    const leave = new AbortController();
    let timer: ReturnType<typeof setTimeout>;
    const make = async (): Promise<void> => {
      const answer = await fetchPreview(id, document, settings, labText, leave.signal);
      if (answer === null) return;
      // What was given up before takes a moment to notice.
      if (answer.kind === 'refused' && answer.problems.some(({ code }) => code === 'too-many')) {
        timer = setTimeout(() => void make(), 1500);
        return;
      }
      setWorking(false);
      setProblems(answer.kind === 'ok' ? [] : sayNoAnswer(answer));
      if (answer.kind === 'ok') setPage({ document, address: answer.value });
    };
    setWorking(true);
    timer = setTimeout(() => void make(), PAUSE);
    return () => {
      clearTimeout(timer);
      leave.abort();
    };
  }, [id, document, settings, labText, made]);
  return { page, problems, isWorking };
}
