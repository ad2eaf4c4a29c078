import * as z from 'zod';

const form = z.object({ base: z.string(), text: z.string() });

/** Edits that no server has yet: the text, and the text of the file that they were made on. */
export type Draft = z.infer<typeof form>;

/** Where drafts are kept between visits; a browser's storage, or a map in a test. */
export interface DraftStorage {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

export interface DraftKeeper {
  read(): Draft | null;
  write(draft: Draft): void;
  forget(): void;
}

/** Keeps the draft of one lab. A storage that is full or forbidden keeps nothing, and the page goes on. */
export function keepDrafts(folder: string, storage: DraftStorage): DraftKeeper {
  const key = `benchwright/draft/${folder}`;
  return {
    read() {
      try {
        const read = form.safeParse(JSON.parse(storage.getItem(key) ?? 'null'));
        return read.success ? read.data : null;
      } catch {
        return null;
      }
    },
    write(draft) {
      try {
        storage.setItem(key, JSON.stringify(draft));
      } catch {
        // Nothing is lost while the page is open, and a lab of one's own is written to its file.
      }
    },
    forget() {
      try {
        storage.removeItem(key);
      } catch {
        // As above.
      }
    },
  };
}
