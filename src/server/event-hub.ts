import { SECURITY_HEADERS } from './security-headers.ts';

/** What the page is told of the folders of the labs. */
export type LabEvent =
  | {
      readonly kind: 'changed' | 'added';
      readonly lab: string;
      readonly path: string;
      readonly digest: string;
    }
  | { readonly kind: 'removed'; readonly lab: string; readonly path: string; readonly digest: null }
  | { readonly kind: 'shelf' };

/** Tells every page that listens. */
export interface EventHub {
  tell(event: LabEvent): void;
  /** A stream of events as an answer; null where too many pages listen already. */
  listen(): Response | null;
  close(): void;
}

/** Pages that may listen at the same time. */
const MOST_LISTENERS = 64;

/** A page that lets this many bytes wait is slower than the news: its stream ends, and it comes back and asks anew. */
const MOST_WAITING_BYTES = 256 * 1024;

/** Lets a page see that the server has gone, and the server that a page has, ms. */
const HEARTBEAT = 15_000;

/**
 * Server-sent events: one stream a page.
 * Source: HTML Standard, 9.2 Server-sent events
 */
export function createEventHub(): EventHub {
  const encoder = new TextEncoder();
  const listeners = new Set<ReadableStreamDefaultController<Uint8Array>>();
  const end = (listener: ReadableStreamDefaultController<Uint8Array>): void => {
    listeners.delete(listener);
    try {
      listener.close();
    } catch {
      // It has ended by itself.
    }
  };
  const send = (text: string): void => {
    const bytes = encoder.encode(text);
    for (const listener of [...listeners]) {
      if ((listener.desiredSize ?? 0) < bytes.length) end(listener);
      else listener.enqueue(bytes);
    }
  };
  const heartbeat = setInterval(() => send(': still here\n\n'), HEARTBEAT);
  heartbeat.unref();
  return {
    tell: (event) => send(`data: ${JSON.stringify(event)}\n\n`),
    listen() {
      if (listeners.size >= MOST_LISTENERS) return null;
      let own: ReadableStreamDefaultController<Uint8Array> | undefined;
      const stream = new ReadableStream<Uint8Array>(
        {
          start(controller) {
            own = controller;
            controller.enqueue(encoder.encode('retry: 1000\n\n'));
            listeners.add(controller);
          },
          cancel() {
            if (own !== undefined) listeners.delete(own);
          },
        },
        { highWaterMark: MOST_WAITING_BYTES, size: (chunk) => chunk.length },
      );
      return new Response(stream, {
        headers: { ...SECURITY_HEADERS.data, 'Content-Type': 'text/event-stream; charset=utf-8' },
      });
    },
    close() {
      clearInterval(heartbeat);
      for (const listener of [...listeners]) end(listener);
    },
  };
}
