import { watch } from 'node:fs';
import { join } from 'node:path';
import type { EventHub } from './event-hub.ts';
import type { Shelf } from './shelf.ts';

/** A new folder is looked at when it has been quiet for this time, and once more, ms: its lab file may come later. */
const LOOKS = [300, 2000];

/**
 * Tells when labs come into the current folder or leave it.
 *
 * @param folder the current folder; what lies deeper than its own folders and those in "labs" is not watched
 */
export function watchShelf(shelf: Shelf, hub: EventHub, folder: string): { close(): void } {
  let known: string | null = null;
  let timers: readonly NodeJS.Timeout[] = [];
  const stand = async (): Promise<string> => (await shelf.all()).map(({ id }) => id).join(' ');
  const look = async (): Promise<void> => {
    const now = await stand();
    if (known !== null && known !== now) hub.tell({ kind: 'shelf' });
    known = now;
  };
  void look();
  const wait = (): void => {
    for (const timer of timers) clearTimeout(timer);
    timers = LOOKS.map((time) => setTimeout(() => void look(), time).unref());
  };
  const watchers = [folder, join(folder, 'labs')].flatMap((path) => {
    try {
      const watcher = watch(path, { persistent: false }, (event) => {
        if (event === 'rename') wait();
      });
      watcher.on('error', () => watcher.close());
      return [watcher];
    } catch {
      // A folder that is not there, or cannot be watched, is looked at whenever the shelf is asked for.
      return [];
    }
  });
  return {
    close() {
      for (const timer of timers) clearTimeout(timer);
      for (const watcher of watchers) watcher.close();
    },
  };
}
