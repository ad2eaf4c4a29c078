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

/** The language of the lab's own words where the document speaks another, else null. */
export function foreignLanguage({ extras }: Gathered, { language }: PrintSettings): string | null {
  const first = (tag: string) => tag.toLowerCase().split('-')[0];
  return first(extras.language) === first(language) ? null : extras.language;
}

export function createDesk(
  gathered: Gathered,
  phrases: Phrases,
  wording: Wording,
  settings: PrintSettings,
  translated: ReadonlySet<string> = new Set(),
): Desk {
  const { lab } = gathered.pipeline;
  const foreign = foreignLanguage(gathered, settings);
  const names = createNames(gathered, phrases, foreign, translated);
  return { gathered, lab, phrases, settings, wording, names };
}
