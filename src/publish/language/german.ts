import type { english } from './english.ts';
import { analysis } from './german/analysis.ts';
import { background } from './german/background.ts';
import { cautions } from './german/cautions.ts';
import { documents } from './german/documents.ts';
import { explorer } from './german/explorer.ts';
import { guide } from './german/guide.ts';
import { questions } from './german/questions.ts';
import { setup } from './german/setup.ts';
import { sources } from './german/sources.ts';
import { talk } from './german/talk.ts';

/** Every fixed phrase of the documents in German. */
export const german: typeof english = {
  documents,
  background,
  setup,
  analysis,
  questions,
  guide,
  explorer,
  cautions,
  sources,
  talk,
};
