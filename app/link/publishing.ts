import * as z from 'zod';
import { type Problem, problem } from '../../src/problem/index.ts';
import type { Answer } from './answer.ts';
import { ask, jsonBody, parsed, problemsIn } from './server.ts';

/** How documents are written, as the command line has it. */
export interface WritingSettings {
  readonly language: 'en' | 'de';
  readonly paper: 'a4' | 'letter';
  readonly decimal: 'point' | 'comma';
  readonly notation: 'plus-minus' | 'brackets';
}

const publishedFile = z.object({ path: z.string(), digest: z.string() });

const publishedSet = z.object({
  files: z.array(publishedFile),
  settings: z.object({ language: z.string() }).nullable(),
  /** SHA-256 of what the set was made from, by file. */
  sources: z.record(z.string(), z.string()).optional(),
  /** Documents that are missing or were changed by hand. */
  changed: z.array(z.string()),
});

export type PublishedSet = z.infer<typeof publishedSet>;

/** The set of documents that is there; without files where nothing was published yet. */
export function fetchPublished(id: string): Promise<Answer<PublishedSet>> {
  return ask(`${lab(id)}/published`, { cache: 'no-store' }, (response) => parsed(response, publishedSet));
}

/** Where a published document is; to be looked at, or to be kept. */
export function publishedAddress(id: string, path: string, how: 'look' | 'keep'): string {
  const address = `${lab(id)}/published/${path.split('/').map(encodeURIComponent).join('/')}`;
  return how === 'keep' ? `${address}?download` : address;
}

/**
 * One document as a page, made from a lab text and from the files of the lab.
 *
 * @returns the address at which it is kept for a while; null where `signal` ended the making
 */
export async function fetchPreview(
  id: string,
  document: string,
  settings: WritingSettings,
  labText: string,
  signal: AbortSignal,
): Promise<Answer<string> | null> {
  const order = { ...settings, document, format: 'html', labText };
  const answer = await ask(`${lab(id)}/preview`, { ...jsonBody(order), signal }, async (response) => {
    await response.body?.cancel();
    return response.headers.get('Content-Location');
  });
  return signal.aborted ? null : answer;
}

const progressLine = z.object({ done: z.number(), total: z.number(), what: z.string() });
const lastLine = z.object({ files: z.array(publishedFile.extend({ size: z.number() })) });

export type MadeSet = z.infer<typeof lastLine>;

export interface PublishOrder extends WritingSettings {
  readonly formats: readonly string[];
  readonly documents: readonly string[];
  readonly labText: string;
}

/** Publishes; null where `signal` ended it: then the set that was there is still there. */
export async function publishSet(
  id: string,
  order: PublishOrder,
  signal: AbortSignal,
  progress: (at: z.infer<typeof progressLine>) => void,
): Promise<Answer<MadeSet> | null> {
  let problems: readonly Problem[] | null = null;
  const answer = await ask(`${lab(id)}/publish`, { ...jsonBody(order), signal }, async (response) => {
    let made: MadeSet | null = null;
    for await (const line of linesOf(response)) {
      const step = progressLine.safeParse(line);
      const last = lastLine.safeParse(line);
      if (step.success) progress(step.data);
      else if (last.success) made = last.data;
      else problems = problemsIn(line) ?? problems;
    }
    return made;
  });
  if (signal.aborted) return null;
  if (problems !== null) return { kind: 'refused', status: 200, problems };
  return answer;
}

/** Each line of an answer that comes bit by bit, as data. */
async function* linesOf(response: Response): AsyncGenerator<unknown> {
  const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const next = await reader?.read();
    if (next === undefined || next.done) break;
    const lines = (rest + next.value).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) if (line !== '') yield JSON.parse(line);
  }
  if (rest !== '') yield JSON.parse(rest);
}

/** Why there is no answer, for people. */
export function sayNoAnswer(answer: Answer<unknown>): readonly Problem[] {
  if (answer.kind === 'refused') return answer.problems;
  return [
    problem(
      'server-gone',
      {},
      'The bench’s server does not answer.',
      'Start it again with "benchwright open".',
    ),
  ];
}

function lab(id: string): string {
  return `/api/labs/${encodeURIComponent(id)}`;
}
