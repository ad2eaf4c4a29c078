export type { Closing } from './closing.ts';
export type {
  EffectShare,
  GapLedger,
  LedgerMeasured,
  LedgerMethod,
  LedgerRemainder,
  LedgerValue,
  Reconciliation,
} from './gap-ledger.ts';
export { type ReconcileOptions, reconcile } from './reconcile.ts';
export { shapleyShares } from './shapley.ts';
export { Cancelled } from './shares.ts';
export { sayVerdict, type Verdict } from './verdict.ts';
