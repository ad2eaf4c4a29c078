import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Whether a program of this name can be started on this machine. */
export function has(program: string): boolean {
  return spawnSync('which', [program]).status === 0;
}

/** Writes bytes to a new folder, runs a program there, and gives what it printed. */
export function runOn(program: string, name: string, bytes: Uint8Array | string, args: readonly string[]) {
  const folder = mkdtempSync(join(tmpdir(), 'publish-test-'));
  writeFileSync(join(folder, name), bytes);
  const run = spawnSync(program, args, {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, HOME: folder },
    maxBuffer: 64e6,
  });
  const made = (file: string): string => readFileSync(join(folder, file), 'utf8');
  return { status: run.status, out: run.stdout, err: run.stderr, made, files: () => readdirSync(folder) };
}

/** The text of a PDF as another program reads it. */
export function textOfPdf(pdf: Uint8Array): string {
  return runOn('pdftotext', 'a.pdf', pdf, ['-layout', 'a.pdf', '-']).out;
}
