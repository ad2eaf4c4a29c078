import { lazy } from 'react';
import { mainLedgers } from '../../ledger/ledger-provider.tsx';
import type { Stage } from '../stage.ts';

export const reconcileStage: Stage = {
  id: 'reconcile',
  name: 'Reconcile',
  purpose: 'Why the measured number is not the number of theory: effect by effect, and what is left.',
  says(_state, { answer }) {
    if (answer === null) return '';
    const verdicts = mainLedgers(answer).flatMap(({ remainder }) => remainder?.verdict ?? []);
    if (verdicts.length === 0) return 'nothing measured yet';
    if (verdicts.includes('unexplained')) return 'something is missing';
    return verdicts.includes('doubtful') ? 'doubtful' : 'all explained';
  },
  edits: [],
  hasLedgerBeside: false,
  Screen: lazy(() => import('./screen.tsx')),
};
