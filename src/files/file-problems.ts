import type { Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';

/** A refusal of the file system as a problem; `file` as people call it. */
export function refusal(error: unknown, file: string, doing: 'read' | 'written'): Problem {
  const code = errorCode(error);
  if (code === 'ENOENT' && doing === 'read')
    return problem('no-such-file', { file }, `"${file}" is not there.`);
  const reason = reasons.get(code) ?? (error instanceof Error ? error.message : String(error));
  return problem(
    doing === 'read' ? 'not-readable' : 'not-writable',
    { file },
    `"${file}" could not be ${doing}: ${reason}.`,
  );
}

/** 'ENOENT' and its like; '' where the error is of another kind. */
export function errorCode(error: unknown): string {
  if (!(error instanceof Error) || !('code' in error)) return '';
  return typeof error.code === 'string' ? error.code : '';
}

const reasons: ReadonlyMap<string, string> = new Map([
  ['ENOENT', 'its folder is not there'],
  ['EACCES', 'you have no permission'],
  ['EPERM', 'you have no permission'],
  ['EISDIR', 'it is a folder'],
  ['ENOTDIR', 'a part of its path is a file, not a folder'],
  ['ENOSPC', 'the disk is full'],
  ['EDQUOT', 'the disk quota is used up'],
  ['EROFS', 'the disk can only be read'],
  ['EMFILE', 'too many files are open'],
  ['ELOOP', 'its links lead in a circle'],
  ['ENAMETOOLONG', 'its name is too long'],
  ['EEXIST', 'it is there already'],
]);
