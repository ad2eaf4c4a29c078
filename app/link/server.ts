import * as z from 'zod';
import type { Problem } from '../../src/problem/index.ts';
import { problem } from '../../src/problem/index.ts';
import type { Answer } from './answer.ts';
import {
  type HeldFile,
  type LabHead,
  labHead,
  refusal,
  type Shelf,
  shelf,
  takenTrial,
  written,
} from './forms.ts';

/** The labs that the server knows. */
export function fetchShelf(): Promise<Answer<Shelf>> {
  return ask('/api/shelf', {}, (response) => parsed(response, shelf));
}

/** A copy of a lab, or a new one where `from` is null, under a name; answers its id. */
export function createLab(from: string | null, name: string): Promise<Answer<{ readonly id: string }>> {
  return ask('/api/labs', jsonBody({ from, name }), (response) =>
    parsed(response, z.object({ id: z.string() })),
  );
}

export function fetchLabHead(id: string): Promise<Answer<LabHead>> {
  return ask(`/api/labs/${encodeURIComponent(id)}`, {}, (response) => parsed(response, labHead));
}

/** Where a file of a lab is fetched from; the worker that computes fetches it by itself. */
export function fileAddress(id: string, path: string): string {
  return `/api/labs/${encodeURIComponent(id)}/files/${path.split('/').map(encodeURIComponent).join('/')}`;
}

export function fetchText(id: string, path: string): Promise<Answer<HeldFile>> {
  return ask(fileAddress(id, path), { cache: 'no-store' }, async (response) => {
    const digest = response.headers.get('ETag')?.replace(/^W\//, '').replace(/"/g, '');
    if (digest === undefined) return null;
    return { text: await response.text(), digest };
  });
}

/**
 * Writes a text file of a lab.
 *
 * @param known the digest that the file has as far as the page knows; null where it must not exist yet
 */
export function writeText(
  id: string,
  path: string,
  text: string,
  known: string | null,
): Promise<Answer<{ readonly digest: string }>> {
  const condition: Record<string, string> =
    known === null ? { 'If-None-Match': '*' } : { 'If-Match': `"${known}"` };
  const init = {
    method: 'PUT',
    headers: { ...condition, 'Content-Type': 'application/octet-stream' },
    body: text,
  };
  return ask(fileAddress(id, path), init, (response) => parsed(response, written));
}

/**
 * Puts a file of raw readings into the lab, as it is.
 *
 * @returns where it lies now: the server gives it another name where one is taken, and keeps the same readings once
 */
export function sendTrial(
  id: string,
  name: string,
  content: Blob,
): Promise<Answer<{ readonly path: string; readonly digest: string }>> {
  const address = `/api/labs/${encodeURIComponent(id)}/trials?name=${encodeURIComponent(name)}`;
  const init = { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: content };
  return ask(address, init, (response) => parsed(response, takenTrial));
}

export function jsonBody(value: unknown): RequestInit {
  return { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(value) };
}

export async function parsed<T>(response: Response, form: z.ZodType<T>): Promise<T | null> {
  const read = form.safeParse(await response.json());
  return read.success ? read.data : null;
}

/** One request; nothing is thrown: a server that is gone is an answer as well. */
export async function ask<T>(
  address: string,
  init: RequestInit,
  read: (response: Response) => Promise<T | null>,
): Promise<Answer<T>> {
  try {
    const response = await fetch(address, init);
    if (response.ok) {
      const value = await read(response);
      return value === null ? refused(response.status, [unexpected(address)]) : { kind: 'ok', value };
    }
    const told: unknown = await response.json().catch(() => null);
    const digest = written.safeParse(told);
    if (response.status === 412 && digest.success) return { kind: 'changed', digest: digest.data.digest };
    return refused(response.status, problemsIn(told) ?? [unexpected(address)]);
  } catch {
    return { kind: 'unreachable' };
  }
}

/** The problems that an answer tells; null where it tells none. */
export function problemsIn(told: unknown): readonly Problem[] | null {
  const found = refusal.safeParse(told);
  if (!found.success) return null;
  return found.data.problems.map(({ code, message, at }) =>
    problem(code, at === undefined ? {} : { step: at }, message),
  );
}

function refused<T>(status: number, problems: readonly Problem[]): Answer<T> {
  return { kind: 'refused', status, problems };
}

function unexpected(address: string): Problem {
  return problem(
    'unexpected-answer',
    {},
    `The server gave an answer to ${address} that this page does not know.`,
  );
}
