import { lazy } from 'react';
import { textAt } from '../../bench/plain.ts';
import type { Stage } from '../stage.ts';

export const questionStage: Stage = {
  id: 'question',
  name: 'The question',
  purpose: 'What a class is to find out, what happens on the bench, and what can hurt.',
  says: ({ reading }) => (textAt(reading.document?.data, ['question']) === undefined ? 'not asked yet' : ''),
  edits: [
    ['title'],
    ['question'],
    ['about'],
    ['level'],
    ['licence'],
    ['language'],
    ['cautions'],
    ['references'],
  ],
  hasLedgerBeside: false,
  Screen: lazy(() => import('./screen.tsx')),
};
