import type { Command } from 'commander';
import type { Outcome, Problem } from '../problem/index.ts';
import type { Desk } from './desk.ts';
import type { Page } from './print/page.ts';

/** What a verb found: as data for programs, as lines for people. */
export interface Report {
  readonly json: Readonly<Record<string, unknown>>;
  print(page: Page): readonly string[];
  /** Doubts that the reader should know of; printed at the end, and in the JSON's `notes`. */
  readonly notes: readonly Problem[];
  /** What is wrong although there is something to report: the command's exit code is 1 then. */
  readonly problems?: readonly Problem[];
  /** What goes on once the report has been told, until the user asks to stop; its end is no interruption. */
  readonly goesOn?: () => Promise<void>;
}

/** One verb of the command line. */
export interface Verb {
  readonly name: string;
  /** One sentence for the list of verbs. */
  readonly what: string;
  /** A command that works in the project's own folder. */
  readonly example: string;
  /** Adds the verb's arguments and options. */
  declare(command: Command): void;
  /**
   * @param args    positional arguments
   * @param options values of the options, as the declaration parsed them
   */
  run(
    desk: Desk,
    args: readonly string[],
    options: Readonly<Record<string, unknown>>,
  ): Promise<Outcome<Report>>;
}
