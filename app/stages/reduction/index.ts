import { lazy } from 'react';
import type { Stage } from '../stage.ts';

export const reductionStage: Stage = {
  id: 'reduction',
  name: 'The reduction',
  purpose:
    'The steps from raw readings to the numbers that are compared. Measured and simulated readings take the same ones.',
  says({ lab }) {
    if (lab === null) return '';
    const { length } = lab.results;
    if (length === 0) return 'no result yet';
    return length === 1 ? '1 result' : `${length} results`;
  },
  edits: [['reduction'], ['results'], ['infer']],
  hasLedgerBeside: true,
  Screen: lazy(() => import('./screen.tsx')),
};
