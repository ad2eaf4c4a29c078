import type { LabResult } from '../lab/index.ts';
import type { Hazard } from './hazards.ts';

/** How well a set of equipment will do. */
export type EquipmentVerdict = 'works well' | 'works with care' | 'will disappoint';

/** One reason for a judgement, as data; sentences are made where they are read. */
export type Reason =
  | { readonly kind: 'cannot run'; readonly because: string }
  | { readonly kind: 'rehearsals fail'; readonly share: number; readonly because: string }
  | { readonly kind: 'few readings'; readonly readings: number }
  | { readonly kind: 'scatter'; readonly relative: number }
  | { readonly kind: 'gap'; readonly relative: number }
  | { readonly kind: 'model ends early'; readonly name: string; readonly share: number }
  | { readonly kind: 'hazard'; readonly hazard: Hazard['kind']; readonly size: number };

export interface Judgement {
  readonly verdict: EquipmentVerdict;
  /** The gravest first; empty where nothing speaks against it. */
  readonly reasons: readonly Reason[];
}

/**
 * From where on equipment is used with care, and from where on it disappoints. All are common practice, no source:
 *
 * - readings: fewer than these in the window of the reduction (a line through few points tells little of itself)
 * - scatter: relative standard deviation of the result from school to school
 * - gap: relative gap between the full model and theory, which the class has to explain
 * - failing: share of rehearsals in which a run cannot be reduced
 */
export const LIMITS = {
  readings: { care: 8, disappoint: 4 },
  scatter: { care: 0.03, disappoint: 0.1 },
  gap: { care: 0.1, disappoint: 0.3 },
  failing: { care: 0, disappoint: 0.1 },
} as const;

/** What a judgement is made from; SI and plain ratios. */
export interface Evidence {
  /** The first result that has a theory, else the first. */
  readonly result: LabResult;
  readonly full: number;
  readonly theory: number;
  readonly spread: number;
  readonly failing: { readonly share: number; readonly because: string } | null;
  readonly readings: number | null;
  /** Where the model's condition fails before the motion ends: its name, and the share of the motion before. */
  readonly endsEarly: { readonly name: string; readonly share: number } | null;
  /** Hazards beyond their thresholds that the lab as given does not have. */
  readonly newHazards: readonly { readonly kind: Hazard['kind']; readonly size: number }[];
}

/** Judges equipment by the rule that stands in docs/adapt.md: the gravest reason decides. */
export function judge(evidence: Evidence): Judgement {
  const { full, theory, spread, failing, readings, endsEarly } = evidence;
  const graded: { readonly reason: Reason; readonly grave: boolean }[] = [];
  const above = (
    value: number,
    limits: { readonly care: number; readonly disappoint: number },
    reason: Reason,
  ): void => {
    if (value > limits.care) graded.push({ reason, grave: value > limits.disappoint });
  };
  if (failing !== null) above(failing.share, LIMITS.failing, { kind: 'rehearsals fail', ...failing });
  if (readings !== null && readings < LIMITS.readings.care)
    graded.push({
      reason: { kind: 'few readings', readings },
      grave: readings < LIMITS.readings.disappoint,
    });
  // Without a size to compare with, no share can be given.
  const scale = Number.isFinite(theory) && theory !== 0 ? theory : full;
  const scatter = Math.abs(spread / scale);
  above(scatter, LIMITS.scatter, { kind: 'scatter', relative: scatter });
  const gap = (full - theory) / theory;
  above(Math.abs(gap), LIMITS.gap, { kind: 'gap', relative: gap });
  if (endsEarly !== null && endsEarly.share < 1)
    graded.push({ reason: { kind: 'model ends early', ...endsEarly }, grave: false });
  for (const { kind, size } of evidence.newHazards)
    graded.push({ reason: { kind: 'hazard', hazard: kind, size }, grave: false });
  graded.sort((a, b) => Number(b.grave) - Number(a.grave));
  const verdict: EquipmentVerdict =
    graded.length === 0
      ? 'works well'
      : graded.some(({ grave }) => grave)
        ? 'will disappoint'
        : 'works with care';
  return { verdict, reasons: graded.map(({ reason }) => reason) };
}
