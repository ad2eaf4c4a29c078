import type { Problem } from '../problem/index.ts';

/** What the command gives back to the shell; part of its documented face. */
export const exitCodes = {
  done: 0,
  /** The lab has a problem, or a run of it failed. */
  problem: 1,
  /** The command was not understood, or a file could not be read or written. */
  unusable: 2,
  /** 128 + 2, what shells give for a program stopped by Ctrl-C (SIGINT). */
  stopped: 130,
} as const;

/** Codes of problems that lie before any lab: the command itself, or the file system. */
const outsideTheLab: ReadonlySet<string> = new Set([
  'usage',
  'no-such-lab',
  'no-such-file',
  'not-readable',
  'not-a-file',
  'file-too-large',
  'not-utf-8',
  'outside-the-folder',
  'name-not-safe',
  'already-there',
  'not-writable',
  'port-taken',
  'internal',
]);

/** 2 where a problem lies outside the lab, else 1. */
export function exitCodeOf(problems: readonly Problem[]): number {
  return problems.some(({ code }) => outsideTheLab.has(code)) ? exitCodes.unusable : exitCodes.problem;
}
