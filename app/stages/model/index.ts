import { lazy } from 'react';
import type { Stage } from '../stage.ts';

export const modelStage: Stage = {
  id: 'model',
  name: 'The model',
  purpose:
    'What happens and what resists it, which effects theory leaves out, and whether the derivation is true.',
  says: ({ lab }) => {
    if (lab === null) return '';
    const { length } = lab.effects;
    if (length === 0) return 'no effects yet';
    return length === 1 ? '1 effect' : `${length} effects`;
  },
  edits: [['where'], ['model'], ['effects'], ['derivation'], ['tables']],
  hasLedgerBeside: true,
  Screen: lazy(() => import('./screen.tsx')),
};
