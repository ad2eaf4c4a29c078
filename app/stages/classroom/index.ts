import { lazy } from 'react';
import type { Stage } from '../stage.ts';

export const classroomStage: Stage = {
  id: 'classroom',
  name: 'Classroom',
  purpose:
    'What each group will find, what the class finds together, and what went wrong where a number is off.',
  says({ lab }) {
    if (lab === null) return '';
    const count = lab.stations.listed.length + (lab.stations.drawn?.groups ?? 0);
    if (count === 0) return '';
    return count === 1 ? 'one station' : `${count} stations`;
  },
  edits: [['stations'], ['slips']],
  hasLedgerBeside: false,
  Screen: lazy(() => import('./screen.tsx')),
};
