import { lazy } from 'react';
import type { Stage } from '../stage.ts';

export const rehearseStage: Stage = {
  id: 'rehearse',
  name: 'Rehearse',
  purpose: 'What the instruments will see and how much the result will scatter, before anybody buys parts.',
  says({ lab }) {
    if (lab === null) return '';
    const { settings, repeats } = lab.plan;
    const runs = settings.length * repeats;
    return runs === 1 ? 'one run planned' : `${runs} runs planned`;
  },
  edits: [['plan']],
  hasLedgerBeside: false,
  Screen: lazy(() => import('./screen.tsx')),
};
