import type { sources as english } from '../english/sources.ts';

export const sources: typeof english = {
  editors: '(Hrsg.)',
  edition: (edition) => `Auflage ${edition}`,
  pages: (pages) => `S. ${pages}`,
};
