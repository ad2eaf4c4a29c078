import { lazy } from 'react';
import type { Stage } from '../stage.ts';

export const adaptStage: Stage = {
  id: 'adapt',
  name: 'Adapt',
  purpose: 'With which equipment and over which range the lab works, before a school finds out by itself.',
  says({ lab }) {
    const count = lab?.kits.length ?? 0;
    if (count === 0) return '';
    return count === 1 ? 'one kit' : `${count} kits`;
  },
  edits: [],
  hasLedgerBeside: false,
  Screen: lazy(() => import('./screen.tsx')),
};
