import { digestOfBytes } from '../files/index.ts';
import { answerRefusal } from './answers.ts';
import type { ServerParts } from './server-parts.ts';
import type { ShelvedLab } from './shelf.ts';

/** A file of more bytes than this is not sent to the page. */
export const MOST_SENT_BYTES = 256 * 2 ** 20;

/** Finds the lab of an id, watches its folder from then on, and answers; 404 where there is none of that id. */
export function labFinder({ shelf, watch }: ServerParts) {
  return async (id: string, answer: (lab: ShelvedLab) => Promise<Response> | Response): Promise<Response> => {
    const lab = await shelf.find(id);
    if (lab === null) return answerRefusal('no-such-lab', 'This lab is not on the shelf.');
    watch.add(lab);
    return answer(lab);
  };
}

/** What stands in the address after '/api/labs/ID/WORD/', decoded; null where it cannot be decoded. */
export function nameAfter(url: string, word: string): string | null {
  const path = new URL(url).pathname;
  const name = new RegExp(`^/api/labs/[^/]+/${word}/(.+)$`).exec(path)?.[1];
  try {
    return name === undefined ? null : decodeURIComponent(name);
  } catch {
    return null;
  }
}

/** A file with its digest as its tag; nothing but the tag where the page has this very content already. */
export function sendFile(
  request: Request,
  bytes: Uint8Array,
  headers: Readonly<Record<string, string>>,
): Response {
  const tag = `"${digestOfBytes(bytes)}"`;
  const isKnown = request.headers.get('if-none-match') === tag;
  return new Response(isKnown ? null : new Uint8Array(bytes), {
    status: isKnown ? 304 : 200,
    headers: { ...headers, ETag: tag },
  });
}
