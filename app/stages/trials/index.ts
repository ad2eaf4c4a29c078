import { lazy } from 'react';
import { listAt } from '../../bench/plain.ts';
import type { Stage } from '../stage.ts';

export const trialsStage: Stage = {
  id: 'trials',
  name: 'Trials',
  purpose: 'Real runs: what was recognised in each file, what counts of it, and what it gives.',
  says({ reading }) {
    const runs = listAt(reading.document?.data, ['trials']).length;
    return runs === 0 ? 'no runs yet' : runs === 1 ? '1 run' : `${runs} runs`;
  },
  edits: [['trials']],
  hasLedgerBeside: true,
  Screen: lazy(() => import('./screen.tsx')),
};
