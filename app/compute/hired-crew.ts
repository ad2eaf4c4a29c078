import { Crew } from './crew.ts';

/** The crew of this page. */
export const crew = new Crew(
  () => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module', name: 'benchwright' }),
);
