import { lazy } from 'react';
import type { Stage } from '../stage.ts';

export const publishStage: Stage = {
  id: 'publish',
  name: 'Publish',
  purpose: 'Every document of the lab, each number in it computed; passages of your own where you want them.',
  says: () => '',
  edits: [['level']],
  hasLedgerBeside: false,
  Screen: lazy(() => import('./screen.tsx')),
};
