export type { Closing } from './closing.ts';
export { Cancelled } from './effect-model.ts';
export type {
  EffectShare,
  GapLedger,
  LedgerMeasured,
  LedgerMethod,
  LedgerOutline,
  LedgerRemainder,
  LedgerValue,
  Reconciliation,
} from './gap-ledger.ts';
export { percentScale } from './percent-scale.ts';
export {
  createReconciler,
  type ReconcileOptions,
  type Reconciler,
  type ReconcilerOptions,
  reconcile,
} from './reconciler.ts';
export { shapleyShares } from './shapley.ts';
export type { DrawnShares } from './shares.ts';
export { isWorthALine } from './shift-worth-a-line.ts';
export { sayVerdict, type Verdict } from './verdict.ts';
export { withoutRounding } from './without-rounding.ts';
