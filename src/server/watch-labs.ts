import { relative, sep } from 'node:path';
import { watch } from 'chokidar';
import { type FileDigests, isPartOfLab } from '../files/index.ts';
import type { EventHub } from './event-hub.ts';
import { describeFile } from './lab-files.ts';
import type { ShelvedLab } from './shelf.ts';

/** Watches the folders of labs and tells what changes in them. */
export interface LabWatch {
  /** Watches a lab's folder from now on. */
  add(lab: ShelvedLab): void;
  /** What the page itself has just written is told at once, and not a second time. */
  told(lab: ShelvedLab, path: string, digest: string, isNew: boolean): void;
  close(): Promise<void>;
}

/** A file is looked at when it has been quiet for this time, ms: programs write in several goes. */
const QUIET = 40;

/** Programs that write safely remove a file for a moment; one that is gone or empty is looked at once more, ms. */
const SECOND_LOOK = 200;

/** Labs that are watched at the same time. */
const MOST_WATCHED = 64;

export function watchLabs(hub: EventHub, digests: FileDigests): LabWatch {
  const watched = new Map<string, ReturnType<typeof watch>>();
  const waiting = new Map<string, NodeJS.Timeout>();
  const lastTold = new Map<string, string | null>();

  const look = async (lab: ShelvedLab, path: string, isSecond: boolean): Promise<void> => {
    const key = `${lab.id} ${path}`;
    waiting.delete(key);
    const entry = await describeFile(lab, path, digests);
    if ((!entry.ok || entry.value.size === 0) && !isSecond) return wait(lab, path, SECOND_LOOK, true);
    const digest = entry.ok ? entry.value.digest : null;
    const before = lastTold.get(key);
    if (before === digest) return;
    lastTold.set(key, digest);
    if (digest === null) hub.tell({ kind: 'removed', lab: lab.id, path, digest });
    else hub.tell({ kind: before === null ? 'added' : 'changed', lab: lab.id, path, digest });
  };
  const wait = (lab: ShelvedLab, path: string, time: number, isSecond: boolean): void => {
    const key = `${lab.id} ${path}`;
    clearTimeout(waiting.get(key));
    waiting.set(
      key,
      setTimeout(() => void look(lab, path, isSecond), time),
    );
  };
  /** A folder that has gone is watched anew when it is back and is asked for. */
  const forget = (lab: ShelvedLab): void => {
    void watched.get(lab.id)?.close();
    watched.delete(lab.id);
    hub.tell({ kind: 'shelf' });
  };
  return {
    add(lab) {
      if (watched.has(lab.id) || watched.size >= MOST_WATCHED) return;
      const nameOf = (path: string): string => relative(lab.folder.path, path).split(sep).join('/');
      const watcher = watch(lab.folder.path, {
        ignoreInitial: true,
        ignored: (path) => path !== lab.folder.path && !isPartOfLab(nameOf(path)),
        followSymlinks: false,
        ignorePermissionErrors: true,
      });
      watcher.on('all', (event, path) => {
        const name = nameOf(path);
        if (event === 'add' && !lastTold.has(`${lab.id} ${name}`)) lastTold.set(`${lab.id} ${name}`, null);
        if (event === 'add' || event === 'change' || event === 'unlink') wait(lab, name, QUIET, false);
        if (event === 'unlinkDir' && name === '') forget(lab);
      });
      // A folder that cannot be watched any longer is still read when it is asked for.
      watcher.on('error', () => undefined);
      watched.set(lab.id, watcher);
    },
    told(lab, path, digest, isNew) {
      lastTold.set(`${lab.id} ${path}`, digest);
      hub.tell({ kind: isNew ? 'added' : 'changed', lab: lab.id, path, digest });
    },
    async close() {
      for (const timer of waiting.values()) clearTimeout(timer);
      await Promise.all([...watched.values()].map((watcher) => watcher.close()));
    },
  };
}
