import { useCallback, useEffect, useRef, useState } from 'react';
import type { Problem } from '../../../src/problem/index.ts';
import { useBenchState } from '../../bench/use-bench.tsx';
import {
  fetchPublished,
  type PublishedSet,
  publishedAddress,
  publishSet,
  sayNoAnswer,
} from '../../link/publishing.ts';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import type { Order } from './order.ts';
import { sayStale } from './stale.ts';

type Step = { readonly done: number; readonly total: number; readonly what: string };

/** Publishing with how far it is, and the set that is there: whether it still matches the lab, and each file of it. */
export function PublishedDocuments({ order }: { readonly order: Order }) {
  const id = useBenchState((state) => state.id);
  const mine = useBenchState((state) => state.mine);
  const isReadable = useBenchState(({ reading }) => reading.lab !== null);
  const labText = useBenchState((state) => state.labText);
  const { set, look } = usePublished(id);
  const [work, setWork] = useState<AbortController | null>(null);
  const [step, setStep] = useState<Step | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const stale = useStale(set);
  const latest = useRef<AbortController | null>(null);
  // Whoever leaves the screen does not wait any more.
  useEffect(() => () => latest.current?.abort(), []);
  const publish = async (): Promise<void> => {
    const leave = new AbortController();
    latest.current = leave;
    setWork(leave);
    setStep(null);
    setProblems([]);
    const made = await publishSet(id, { ...order, labText }, leave.signal, setStep);
    setWork(null);
    if (made !== null && made.kind !== 'ok') setProblems(sayNoAnswer(made));
    await look();
  };
  const isNothing = order.formats.length === 0 || order.documents.length === 0;
  return (
    <section className="published" aria-labelledby="published-heading">
      <h2 id="published-heading">Published documents</h2>
      <button
        type="button"
        className="button strong"
        disabled={work !== null || isNothing || !isReadable}
        onClick={() => void publish()}
      >
        Publish
      </button>
      <p className="small quiet">
        {set === null || set.files.length === 0
          ? `The documents go into ${mine ? 'the folder "published" of the lab' : 'a folder of the program, until it ends'}.`
          : 'What is published takes the place of what is there; until it is done, that stays whole.'}
      </p>
      <Progress progress={step} isWorking={work !== null} onStop={() => work?.abort()} />
      <ProblemList problems={problems} />
      {set === null || set.files.length === 0 ? null : (
        <>
          <div className="stale" role="status">
            {stale.length === 0 ? (
              <p className="up-to-date">They match the lab as it is.</p>
            ) : (
              <>
                <p className="is-stale">They no longer match the lab. Publish again.</p>
                <ul className="small">
                  {stale.map((says) => (
                    <li key={says}>{says}</li>
                  ))}
                </ul>
              </>
            )}
          </div>
          <ul className="published-files">
            {set.files.map(({ path }) => (
              <li key={path}>
                <span className="published-name">{path}</span>
                {/\.(html|pdf)$/.test(path) ? (
                  <a href={publishedAddress(id, path, 'look')} target="_blank" rel="noreferrer">
                    Open<span className="unseen"> {path}</span>
                  </a>
                ) : null}
                <a href={publishedAddress(id, path, 'keep')} download>
                  Download<span className="unseen"> {path}</span>
                </a>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

function usePublished(id: string) {
  const [set, setSet] = useState<PublishedSet | null>(null);
  const look = useCallback(async (): Promise<void> => {
    const answer = await fetchPublished(id);
    if (answer.kind === 'ok') setSet(answer.value);
  }, [id]);
  useEffect(() => void look(), [look]);
  return { set, look };
}

function useStale(set: PublishedSet | null): readonly string[] {
  const labText = useBenchState((state) => state.labText);
  const files = useBenchState((state) => state.files);
  const [labDigest, setLabDigest] = useState<string | null>(null);
  useEffect(() => {
    let isOld = false;
    void digestOf(labText).then((digest) => {
      if (!isOld) setLabDigest(digest);
    });
    return () => {
      isOld = true;
    };
  }, [labText]);
  if (set === null || labDigest === null) return [];
  const now = new Map(files.map(({ path, digest }) => [path, digest]));
  now.set('lab.yaml', labDigest);
  return sayStale(set, now);
}

/** SHA-256 in hexadecimal, as the list of a published set has it. */
async function digestOf(text: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
