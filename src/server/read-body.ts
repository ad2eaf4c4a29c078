import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';

/**
 * Reads what a request brings, up to `most` bytes: one that says it brings more is refused before any of it is read,
 * one that does not say so as soon as it does.
 */
export async function readBody(request: Request, most: number): Promise<Outcome<Uint8Array>> {
  const said = Number(request.headers.get('content-length') ?? 0);
  if (said > most) return fail(tooLarge(most));
  const chunks: Uint8Array[] = [];
  let size = 0;
  const reader = request.body?.getReader();
  for (;;) {
    const next = await reader?.read();
    if (next === undefined || next.done) break;
    size += next.value.length;
    if (size > most) {
      await reader?.cancel().catch(() => undefined);
      return fail(tooLarge(most));
    }
    chunks.push(next.value);
  }
  const whole = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return succeed(whole);
}

/** Reads JSON of at most a mebibyte. */
export async function readJson(request: Request, most = 2 ** 20): Promise<Outcome<unknown>> {
  const bytes = await readBody(request, most);
  if (!bytes.ok) return bytes;
  try {
    const value: unknown = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes.value));
    return succeed(value);
  } catch {
    return fail(problem('usage', {}, 'What was sent is not JSON.'));
  }
}

function tooLarge(most: number) {
  return problem(
    'file-too-large',
    {},
    `What was sent is larger than ${Math.floor(most / 2 ** 20)} MB; nothing was written.`,
    'Copy a file of this size into the folder of the lab by hand.',
  );
}
