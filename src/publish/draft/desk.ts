import type { Wording } from '../../figure/index.ts';
import type { Lab } from '../../lab/index.ts';
import type { PrintSettings } from '../document/index.ts';
import type { Gathered } from '../gather/index.ts';
import type { Phrases } from '../language/index.ts';
import { createNames, type Names } from './names.ts';

/** What every draft has at hand: the numbers, the phrases, the settings, and ways to name things of the lab. */
export interface Desk {
  readonly gathered: Gathered;
  readonly lab: Lab;
  readonly phrases: Phrases;
  readonly settings: PrintSettings;
  readonly wording: Wording;
  readonly names: Names;
}

export function createDesk(
  gathered: Gathered,
  phrases: Phrases,
  wording: Wording,
  settings: PrintSettings,
): Desk {
  const { lab } = gathered.pipeline;
  return { gathered, lab, phrases, settings, wording, names: createNames(gathered, phrases) };
}
