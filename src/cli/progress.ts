import { Writable } from 'node:stream';
import { SingleBar } from 'cli-progress';
import type { TextStream } from './environment.ts';
import type { Page } from './print/page.ts';

/** Says how far a long piece of work has come. */
export interface Progress {
  /** Shows that `done` of `total` pieces are done; another label begins another bar. */
  show(label: string, done: number, total: number): void;
  /** Takes the bar off the screen. */
  clear(): void;
}

/** A bar on a terminal; nothing anywhere else. */
export function createProgress(stream: TextStream, page: Page): Progress {
  if (!stream.isTerminal) return { show: () => undefined, clear: () => undefined };
  let current: { readonly label: string; readonly bar: SingleBar } | null = null;
  const clear = (): void => {
    current?.bar.stop();
    current = null;
  };
  return {
    clear,
    show(label, done, total) {
      if (current?.label !== label) {
        clear();
        current = { label, bar: startBar(stream, page, label, total) };
      }
      current.bar.update(done);
    },
  };
}

function startBar(stream: TextStream, page: Page, label: string, total: number): SingleBar {
  const writer = new Writable({
    write(chunk, _encoding, done) {
      stream.write(String(chunk));
      done();
    },
  });
  const bar = new SingleBar({
    stream: Object.assign(writer, { isTTY: true }),
    format: `${page.plain(label)} {bar} {value}/{total}`,
    barCompleteChar: page.glyphs.shaft,
    barIncompleteChar: page.glyphs.rule,
    barsize: 30,
    fps: 10,
    clearOnComplete: true,
    // What the bar changed of the terminal would stay so where the program is killed.
    hideCursor: false,
    linewrap: true,
    gracefulExit: false,
  });
  bar.start(total, 0);
  return bar;
}
