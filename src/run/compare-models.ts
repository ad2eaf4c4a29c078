import type { BaseQuantity, Pipeline, RivalModel, TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed, warning } from '../problem/index.ts';
import { exp } from '../wasm/index.ts';
import { type Belief, createComparison } from './infer-comparison.ts';
import { findPosterior, gatherFittedRuns, isRough } from './infer-posterior.ts';
import { type InferredQuantity, sayQuantity } from './infer-report.ts';

/** One of the models that the trials choose among, and what they say of it. */
export interface WeighedModel {
  readonly model: RivalModel;
  /** Probability of the model given the trials, each model alike beforehand; all together 1. */
  readonly weight: number;
  /** ln of its evidence over that of the best model; 0 for the best, else below. */
  readonly logEvidence: number;
  /** Sum of squared deviations of the runs' means and of the quantities at the best fit, each over its uncertainty. */
  readonly chiSquare: number;
  /** What the trials leave of the quantities that the model gives an uncertainty. */
  readonly free: readonly InferredQuantity[];
}

export interface CompareOptions {
  /** Pairs of draws that each evidence is found with; 2048 where left out. */
  readonly pairs?: number;
}

/**
 * Weighs the lab's models against each other by their evidence: how probable each made these runs before they were seen.
 *
 * The evidence is the mean of the likelihood over what the model allows beforehand, so a model that allows much and is
 * right only somewhere pays for what it allows in vain. All models are told of the same numbers of the same runs, whose
 * scatter is that of `infer`; the weights take them as equally likely beforehand.
 *
 * @returns one entry a model, in the lab's order; none where the lab names no models
 * Source: Jeffreys, Theory of Probability, 3rd ed., Oxford 1961, chapter V; MacKay, Information Theory, Inference, and
 * Learning Algorithms, Cambridge 2003, chapter 28. Checked by closed forms, and by how often a weight is right
 */
export function compareModels(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  options: CompareOptions = {},
): Outcome<readonly WeighedModel[]> {
  const { lab } = pipeline;
  if (lab.infer.models.length === 0) return succeed([]);
  const runs = gatherFittedRuns(pipeline, trials);
  if (!runs.ok) return runs;
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const found = lab.infer.models.flatMap((model) => {
    const belief = believe(pipeline, model);
    const compare = createComparison(pipeline, runs.value, belief);
    const fitted = findPosterior(pipeline, runs.value, belief, compare, options.pairs);
    if (!fitted.ok) {
      problems.push(...fitted.problems.map((own) => inModel(own, model)));
      return [];
    }
    const { posterior, chiSquare } = fitted.value;
    if (isRough(posterior)) warnings.push(roughEvidence(lab.file, model));
    const free = belief.parameters.flatMap((quantity, place) =>
      belief.own.has(quantity) ? [sayQuantity(quantity, place, posterior)] : [],
    );
    return [{ model, chiSquare, free, logEvidence: posterior.logEvidence }];
  });
  if (problems.length > 0) return fail(...problems);
  const best = Math.max(...found.map(({ logEvidence }) => logEvidence));
  const total = found.reduce((sum, { logEvidence }) => sum + exp(logEvidence - best), 0);
  return succeed(
    found.map(({ logEvidence, ...rest }) => ({
      ...rest,
      logEvidence: logEvidence - best,
      weight: exp(logEvidence - best) / total,
    })),
    [...runs.warnings, ...warnings],
  );
}

/** What a model says before the trials; `own` are the quantities that it gives an uncertainty. */
function believe(
  { lab, nominal }: Pipeline,
  { set }: RivalModel,
): Belief & { readonly own: ReadonlySet<BaseQuantity> } {
  const values = Float64Array.from(nominal);
  for (const { quantity, value } of set) values[quantity.index] = value;
  const own = new Set<BaseQuantity>();
  const parameters = lab.quantities.base.flatMap((quantity): BaseQuantity[] => {
    const setting = set.find((other) => other.quantity.index === quantity.index);
    if (setting === undefined)
      return quantity.estimate.standardUncertainty > 0 && lab.influential.has(quantity.index)
        ? [quantity]
        : [];
    if (setting.stated === null) return [];
    const stated = { ...quantity, estimate: setting.stated };
    own.add(stated);
    return [stated];
  });
  return { parameters, nominal: values, own };
}

function inModel(found: Problem, { name }: RivalModel): Problem {
  return { ...found, message: `${found.message} This is in the model "${name}".` };
}

function roughEvidence(file: string, { name }: RivalModel): Problem {
  return warning(
    'evidence-rough',
    { file, step: 'infer' },
    `What the model "${name}" allows and what the trials say lie so far apart that its weight is rough.`,
  );
}
