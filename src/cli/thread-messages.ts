/** What the thread is started with. */
export interface ThreadOrder {
  readonly args: readonly string[];
  readonly folder: string;
  /** One 32-bit number: 1 as soon as the user asks to stop. */
  readonly stop: SharedArrayBuffer;
  readonly out: ThreadStream;
  readonly err: ThreadStream;
}

export interface ThreadStream {
  readonly isTerminal: boolean;
  readonly columns: number | undefined;
}

/** What the thread says: text for a stream, or the exit code, once and last. */
export type ThreadMessage =
  | { readonly kind: 'text'; readonly to: 'out' | 'err'; readonly text: string }
  | { readonly kind: 'exit'; readonly code: number };
