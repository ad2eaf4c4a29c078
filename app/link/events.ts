import * as z from 'zod';

const labEvent = z.discriminatedUnion('kind', [
  z.object({
    kind: z.enum(['changed', 'added', 'removed']),
    lab: z.string(),
    path: z.string(),
    digest: z.string().nullish(),
  }),
  z.object({ kind: z.literal('shelf') }),
]);

/** Something changed on the disk, by whatever hand. */
export type OutsideEvent = z.infer<typeof labEvent>;

export interface EventListener {
  readonly heard: (event: OutsideEvent) => void;
  /** The server answers, or it does not any more. */
  readonly presence: (isThere: boolean) => void;
}

/** Listens to the server until the returned function is called; the browser reconnects by itself. */
export function listenToServer({ heard, presence }: EventListener): () => void {
  const source = new EventSource('/api/events');
  source.onopen = () => presence(true);
  source.onerror = () => {
    presence(false);
    // A browser gives up where the answer was no stream, as from a server that is just starting.
    if (source.readyState === EventSource.CLOSED) retry();
  };
  source.onmessage = ({ data }) => {
    const event = labEvent.safeParse(readJson(data));
    if (event.success) heard(event.data);
  };
  let stop = () => source.close();
  const retry = () => {
    const timer = setTimeout(() => {
      stop = listenToServer({ heard, presence });
    }, 2000);
    stop = () => clearTimeout(timer);
  };
  return () => stop();
}

function readJson(data: unknown): unknown {
  try {
    return JSON.parse(String(data));
  } catch {
    return null;
  }
}
