export type { Closing } from './closing.ts';
export { Cancelled } from './effect-model.ts';
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
export { sayVerdict, type Verdict } from './verdict.ts';
