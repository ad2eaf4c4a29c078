import { lazy } from 'react';
import type { Stage } from '../stage.ts';

export const apparatusStage: Stage = {
  id: 'apparatus',
  name: 'The apparatus',
  purpose:
    'Every quantity with its value, how well it is known and where that is from. Move one and watch the ledger.',
  says({ lab }) {
    if (lab === null) return '';
    const { length } = lab.quantities.all;
    return length === 1 ? '1 quantity' : `${length} quantities`;
  },
  edits: [['quantities'], ['correlations'], ['instruments'], ['kits']],
  hasLedgerBeside: true,
  Screen: lazy(() => import('./screen.tsx')),
};
