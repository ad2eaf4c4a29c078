import { randomBytes } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { basename } from 'node:path';
import * as z from 'zod';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { makeCode } from './lesson-code.ts';

/** A number as it was kept, SI. */
export interface KeptNumber {
  readonly result: string;
  readonly value: number;
  /** Standard uncertainty that the group stated or its readings gave; null for none. */
  readonly u: number | null;
  /** Half a step of the last written digit. */
  readonly halfStep: number;
  /** What was typed; empty where it came from readings. */
  readonly written: string;
}

export interface KeptEntry {
  readonly id: number;
  readonly group: number;
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly numbers: readonly KeptNumber[];
  /** Name and SHA-256 of the readings; null where the numbers were typed. */
  readonly file: { readonly name: string; readonly sha256: string } | null;
}

export interface KeptGroup {
  readonly id: number;
  readonly name: string;
  readonly station: string;
  /** Left out of the pooled result by the teacher. */
  readonly aside: boolean;
}

export interface NewEntry {
  readonly group: number;
  readonly at: number;
  readonly numbers: readonly KeptNumber[];
  readonly file: { readonly name: string; readonly sha256: string; readonly bytes: Uint8Array } | null;
}

/** What a lesson has been told. Each change is on the disk before its function returns. */
export interface EntryStore {
  /** The code of the lesson and the secret that marks its pages; new after `deleteAll`. */
  code(): string;
  secret(): string;
  groups(): readonly KeptGroup[];
  entries(): readonly KeptEntry[];
  /** The group of a name, made where there is none; null where the station is another group's. */
  join(name: string, station: string): KeptGroup | null;
  add(entry: NewEntry): number;
  readings(entry: number): { readonly name: string; readonly bytes: Uint8Array } | null;
  setAside(group: number, aside: boolean): void;
  deleteEntry(entry: number): void;
  deleteAll(): void;
  /** Closes the file; it is removed where nothing is in it. */
  close(): Promise<void>;
}

const numbersForm = z.array(
  z.object({
    result: z.string(),
    value: z.number(),
    u: z.number().nullable(),
    halfStep: z.number(),
    written: z.string(),
  }),
);
const lessonForm = z.object({ subject: z.string(), code: z.string(), secret: z.string() });
const groupForm = z
  .object({ id: z.number(), name: z.string(), station: z.string(), aside: z.number() })
  .transform((row): KeptGroup => ({ ...row, aside: row.aside === 1 }));
const entryForm = z
  .object({
    id: z.number(),
    group_id: z.number(),
    at: z.number(),
    numbers: z.string(),
    file_name: z.string().nullable(),
    sha256: z.string().nullable(),
  })
  .transform(
    (row): KeptEntry => ({
      id: row.id,
      group: row.group_id,
      at: row.at,
      numbers: numbersForm.parse(JSON.parse(row.numbers)),
      file: row.file_name === null ? null : { name: row.file_name, sha256: row.sha256 ?? '' },
    }),
  );
// The binding gives one or the other, by the way a row is asked for.
const readingsForm = z.object({
  file_name: z.string(),
  file: z.union([z.instanceof(ArrayBuffer), z.instanceof(Uint8Array)]),
});

const TABLES = `
CREATE TABLE IF NOT EXISTS lesson (one INTEGER PRIMARY KEY CHECK (one = 1), subject TEXT NOT NULL, code TEXT NOT NULL, secret TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS groups (id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL UNIQUE COLLATE NOCASE, station TEXT NOT NULL UNIQUE, aside INTEGER NOT NULL DEFAULT 0);
CREATE TABLE IF NOT EXISTS entries (id INTEGER PRIMARY KEY AUTOINCREMENT, group_id INTEGER NOT NULL, at INTEGER NOT NULL, numbers TEXT NOT NULL, file_name TEXT, sha256 TEXT, file BLOB);
`;

/**
 * Opens the file of a lesson, or makes it: an SQLite database with a write-ahead log that is flushed at every commit,
 * so that a process that is killed, or a computer that loses its power, loses nothing that was acknowledged.
 *
 * @param subject what the lesson is about; a file of another one is refused
 * @returns fails where the file cannot be opened, is no lesson, or is that of another one
 * Source: SQLite, "Write-Ahead Logging" and "PRAGMA synchronous", sqlite.org/wal.html, sqlite.org/pragma.html
 */
export async function openEntryStore(path: string, subject: string): Promise<Outcome<EntryStore>> {
  const file = basename(path);
  const refuse = (reason: string) =>
    fail(
      problem(
        'not-writable',
        { file },
        `The entries of the lesson cannot be kept in "${path}" (${reason}).`,
        'Name another file with --entries.',
      ),
    );
  try {
    // Native code that a platform may lack: only a lesson needs it.
    const { default: Database } = await import('libsql');
    const database = new Database(path);
    database.exec('PRAGMA busy_timeout = 2000');
    database.exec('PRAGMA journal_mode = WAL');
    database.exec('PRAGMA synchronous = FULL');
    database.exec('PRAGMA secure_delete = ON');
    database.exec(TABLES);
    const store = storeOver(database, path, subject);
    const row = lessonForm.parse(database.prepare('SELECT * FROM lesson').get());
    if (row.subject === subject) return succeed(store);
    database.close();
    return refuse('it holds the entries of another lesson');
  } catch (error) {
    return refuse(error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error));
  }
}

type Database = InstanceType<typeof import('libsql')>;

function storeOver(database: Database, path: string, subject: string): EntryStore {
  const begin = (): void => {
    database
      .prepare('INSERT OR IGNORE INTO lesson VALUES (1, ?, ?, ?)')
      .run(subject, makeCode(), randomBytes(32).toString('hex'));
  };
  begin();
  // Asked for each time: another lesson may have the same file open, and have deleted everything.
  const lesson = () => lessonForm.parse(database.prepare('SELECT * FROM lesson').get());
  const groups = () => z.array(groupForm).parse(database.prepare('SELECT * FROM groups ORDER BY id').all());
  const insert = database.prepare(
    'INSERT INTO entries (group_id, at, numbers, file_name, sha256, file) VALUES (?, ?, ?, ?, ?, ?)',
  );
  return {
    code: () => lesson().code,
    secret: () => lesson().secret,
    groups,
    entries: () =>
      z
        .array(entryForm)
        .parse(
          database
            .prepare('SELECT id, group_id, at, numbers, file_name, sha256 FROM entries ORDER BY id')
            .all(),
        ),
    join(name, station) {
      database.prepare('INSERT OR IGNORE INTO groups (name, station) VALUES (?, ?)').run(name, station);
      const row = database.prepare('SELECT * FROM groups WHERE name = ?').get(name);
      return row === undefined ? null : groupForm.parse(row);
    },
    add({ group, at, numbers, file }) {
      const done = insert.run(
        group,
        at,
        JSON.stringify(numbers),
        file?.name ?? null,
        file?.sha256 ?? null,
        file === null ? null : Buffer.from(file.bytes),
      );
      return Number(done.lastInsertRowid);
    },
    readings(entry) {
      const row = readingsForm.safeParse(
        database.prepare('SELECT file_name, file FROM entries WHERE id = ? AND file IS NOT NULL').get(entry),
      );
      return row.success ? { name: row.data.file_name, bytes: new Uint8Array(row.data.file) } : null;
    },
    setAside(group, aside) {
      database.prepare('UPDATE groups SET aside = ? WHERE id = ?').run(aside ? 1 : 0, group);
    },
    deleteEntry(entry) {
      database.prepare('DELETE FROM entries WHERE id = ?').run(entry);
    },
    deleteAll() {
      database.exec('BEGIN IMMEDIATE');
      database.exec('DELETE FROM entries; DELETE FROM groups; DELETE FROM lesson');
      begin();
      database.exec('COMMIT');
      database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
      database.exec('VACUUM');
      database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    },
    async close() {
      const isEmpty = groups().length === 0;
      database.close();
      if (!isEmpty) return;
      for (const end of ['', '-wal', '-shm']) await rm(`${path}${end}`, { force: true });
    },
  };
}
