import type { LabFolder } from '../files/index.ts';
import type { Environment } from './environment.ts';
import type { Progress } from './progress.ts';

/** What a verb works with, and what it leaves lying there for the messages. */
export interface Desk {
  readonly environment: Environment;
  readonly progress: Progress;
  /** The lab that was opened last, and its text: places in messages are shown in it. */
  opened: { readonly folder: LabFolder; readonly text: string } | null;
}
