import { analysis } from './english/analysis.ts';
import { background } from './english/background.ts';
import { cautions } from './english/cautions.ts';
import { documents } from './english/documents.ts';
import { explorer } from './english/explorer.ts';
import { guide } from './english/guide.ts';
import { questions } from './english/questions.ts';
import { setup } from './english/setup.ts';
import { sources } from './english/sources.ts';
import { talk } from './english/talk.ts';

/** Every fixed phrase of the documents in English. Its form is the form of every language's table. */
export const english = {
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
