/** One evaluation that is asked of a model: which effects are on (bit i: effect i), and the m inputs. */
export interface EffectPoint {
  readonly subset: number;
  readonly inputs: Float64Array;
}

/** A model with k effects and m uncertain inputs, seen as nothing but numbers. */
export interface EffectModel {
  /** k. */
  readonly effects: number;
  /** Number of outputs. */
  readonly outputs: number;
  /** m nominal inputs. */
  readonly nominal: Float64Array;
  /** m standard uncertainties. */
  readonly uncertainties: Float64Array;
  /**
   * Evaluates many points.
   *
   * @param outputs receives points × outputs
   * @param sound   receives 1 where a point lies inside the model's domain, else 0; points that are not done because
   *   the signal asks to stop stay 0
   */
  predict(
    points: readonly EffectPoint[],
    outputs: Float64Array,
    sound: Uint8Array,
    signal?: { readonly aborted: boolean },
  ): void;
  /** True where no output can depend on an input while the subset is on, as of a quantity that is set by "off". */
  isInert(subset: number, input: number): boolean;
}

/** What the ledger waits for or reports: how much is done, and whether to stop. */
export interface Work {
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

/** Thrown where the caller asked to stop; the caller who asked catches it. */
export class Cancelled extends Error {
  constructor() {
    super('The computation was cancelled.');
    this.name = 'Cancelled';
  }
}

/** Evaluates points; null where one of them lies outside the model's domain. Throws `Cancelled` where asked to stop. */
export function evaluatePoints(
  model: EffectModel,
  points: readonly EffectPoint[],
  work: Work,
): { readonly outputs: Float64Array; readonly sound: Uint8Array } {
  stopWhereAsked(work);
  const outputs = new Float64Array(points.length * model.outputs);
  const sound = new Uint8Array(points.length);
  model.predict(points, outputs, sound, work.signal);
  stopWhereAsked(work);
  return { outputs, sound };
}

function stopWhereAsked({ signal }: Work): void {
  if (signal?.aborted === true) throw new Cancelled();
}
