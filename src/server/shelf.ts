import { createHash } from 'node:crypto';
import { readdir, realpath, stat } from 'node:fs/promises';
import { basename, join, relative, sep } from 'node:path';
import { type LabFolder, liesInside, readLabText } from '../files/index.ts';
import { readDocument } from '../lab/index.ts';
import { digestOf } from '../publish/index.ts';

/** A lab that the app may open. */
export interface ShelvedLab {
  /** A short word that says nothing of where the lab lies; the same each time the server is started. */
  readonly id: string;
  readonly folder: LabFolder;
  /** What people call the folder. */
  readonly shown: string;
  /** Whether the app may write to it: not so for labs that came with the program. */
  readonly mine: boolean;
}

/** What the front page says of a lab. */
export interface LabCard {
  readonly id: string;
  readonly folder: string;
  readonly title: string;
  readonly question: string;
  readonly mine: boolean;
  /** SHA-256 of the lab file, hexadecimal; '' where it cannot be read. */
  readonly digest: string;
}

/** The labs within reach: the one that was named, those in the current folder, those that come along. */
export interface Shelf {
  /** Looks where labs may lie, anew each time: the one that was named first, then the user's own, then the others. */
  all(): Promise<readonly ShelvedLab[]>;
  /** The lab of that id; null where there is none. */
  find(id: string): Promise<ShelvedLab | null>;
  /** The id of the lab that the server was started for. */
  readonly opened: string | null;
}

/** More labs than this are not looked for in one folder. */
const MOST_LABS = 200;

/**
 * @param places.opened      the lab that the user named, if any
 * @param places.folder      the current folder, in which and in whose "labs" the user's own labs lie
 * @param places.shippedLabs the folder of the labs that come along
 */
export function createShelf(places: {
  readonly opened: LabFolder | null;
  readonly folder: string;
  readonly shippedLabs: string;
}): Shelf {
  let known = new Map<string, ShelvedLab>();
  const all = async (): Promise<readonly ShelvedLab[]> => {
    const shipped = await realpath(places.shippedLabs).catch(() => places.shippedLabs);
    const own = await labsAt(places.folder);
    const folders = [
      ...(places.opened === null ? [] : [places.opened]),
      ...own,
      ...(await labsAt(join(places.folder, 'labs'))),
      ...(await labsAt(shipped)),
    ];
    const labs = folders.map((folder) => shelve(folder, places.folder, shipped));
    // The lab that was named may also lie in the current folder, and the current folder may be the program's own.
    known = new Map([...labs].reverse().map((lab) => [lab.id, lab]));
    return [...new Map(labs.map((lab) => [lab.id, lab])).values()];
  };
  return {
    all,
    async find(id) {
      if (!known.has(id)) await all();
      return known.get(id) ?? null;
    },
    opened: places.opened === null ? null : idOf(places.opened),
  };
}

/** Title and question of a lab; a file with problems still has a place on the shelf, under its folder's name. */
export async function describeLab(lab: ShelvedLab): Promise<LabCard> {
  const text = await readLabText(lab.folder);
  const document = text.ok ? readDocument(text.value, lab.folder.labFile) : text;
  const data: unknown = document.ok ? document.value.data : null;
  return {
    id: lab.id,
    folder: lab.shown,
    title: wordsAt(data, 'title') ?? basename(lab.folder.path),
    question: wordsAt(data, 'question') ?? '',
    mine: lab.mine,
    digest: text.ok ? digestOf(text.value) : '',
  };
}

function wordsAt(data: unknown, key: string): string | null {
  const value: unknown = typeof data === 'object' && data !== null ? Reflect.get(data, key) : undefined;
  return typeof value === 'string' && value.trim() !== '' ? value.trim() : null;
}

/** The folder itself and those in it that hold a lab file. */
async function labsAt(folder: string): Promise<readonly LabFolder[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const inside = entries
    .filter((entry) => (entry.isDirectory() || entry.isSymbolicLink()) && !entry.name.startsWith('.'))
    .map((entry) => join(folder, entry.name))
    .sort();
  const found: LabFolder[] = [];
  for (const candidate of [folder, ...inside]) {
    const isLab = (await stat(join(candidate, 'lab.yaml')).catch(() => null))?.isFile() === true;
    const path = isLab ? await realpath(candidate).catch(() => null) : null;
    if (path !== null) found.push({ path, labFile: 'lab.yaml', prefix: '' });
    if (found.length >= MOST_LABS) break;
  }
  return found;
}

function shelve(folder: LabFolder, current: string, shipped: string): ShelvedLab {
  const isShipped = liesInside(folder.path, shipped);
  const way = relative(current, folder.path);
  const isNear = way !== '' && !way.startsWith('..');
  return {
    id: idOf(folder),
    folder,
    shown: isShipped || !isNear ? basename(folder.path) : way.replaceAll(sep, '/'),
    mine: !isShipped,
  };
}

/** The page keeps what it has of a lab under this word, so it must not change from one start to the next. */
function idOf({ path, labFile }: LabFolder): string {
  return createHash('sha256').update(`${path}\0${labFile}`).digest('hex').slice(0, 12);
}
