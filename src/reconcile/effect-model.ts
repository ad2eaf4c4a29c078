/** Evaluations that are asked of a model, each with its own subset of effects and its own inputs. */
export interface EffectPoints {
  readonly count: number;
  /** Which effects are on at each point (bit i: effect i). */
  readonly subsets: Uint32Array;
  /** count × m inputs. */
  readonly inputs: Float64Array;
  /** So many points, one after another, stand or fall together: once one has failed, the others need not be done. */
  readonly together: number;
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
    points: EffectPoints,
    outputs: Float64Array,
    sound: Uint8Array,
    signal?: { readonly aborted: boolean },
  ): void;
  /** True where no output can depend on an input while the subset is on, as of a quantity that is set by "off". */
  isInert(subset: number, input: number): boolean;
  /** Runs of a point so far that were for the general way, each of which costs as much as hundreds; 0 where not known. */
  generalRunsPerPoint?(): number;
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

/** Evaluates points. Throws `Cancelled` where asked to stop. */
export function evaluatePoints(
  model: EffectModel,
  points: EffectPoints,
  work: Work,
): { readonly outputs: Float64Array; readonly sound: Uint8Array } {
  stopWhereAsked(work);
  const outputs = new Float64Array(points.count * model.outputs);
  const sound = new Uint8Array(points.count);
  model.predict(points, outputs, sound, work.signal);
  stopWhereAsked(work);
  return { outputs, sound };
}

/** Throws `Cancelled` where the caller asks to stop. */
function stopWhereAsked({ signal }: Work): void {
  if (signal?.aborted === true) throw new Cancelled();
}
