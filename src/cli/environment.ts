/** Something that takes text: a terminal, a pipe, or a string in a test. */
export interface TextStream {
  write(text: string): void;
  /** Whether a person is looking. */
  readonly isTerminal: boolean;
  /** Width of the terminal in characters, where one is known. */
  readonly columns?: number;
}

export interface Streams {
  readonly out: TextStream;
  readonly err: TextStream;
}

/** Everything that the command line takes from outside, so that a test can bring its own. */
export interface Environment {
  /** The folder that relative paths are meant from. */
  readonly folder: string;
  /** Environment variables. */
  readonly variables: Readonly<Record<string, string | undefined>>;
  /** The folder of the labs that come with the package. */
  readonly shippedLabs: string;
  /** Where the built app lies. */
  readonly app: string;
  /** The program of the thread that makes documents for the app; null where they are made in the server's own. */
  readonly documentThread: URL | null;
  readonly version: string;
  /** Shows an address in the user's browser; false where nobody would see a window. */
  readonly showAddress: (address: string) => boolean;
  /** Set where the person at the terminal asks to stop. */
  readonly signal: { readonly aborted: boolean };
}
