import {
  combineKits,
  type EquipmentOutlook,
  type Extremes,
  findExtremes,
  surveyKits,
} from '../../adapt/index.ts';
import {
  type ClassRehearsal,
  changesResult,
  rehearseClass,
  runSlip,
  type SlipResults,
} from '../../classroom/index.ts';
import { createPipeline, type Kit, type LabDocument, type Pipeline, type TrialRun } from '../../lab/index.ts';
import { type Outcome, type Problem, succeed, warning } from '../../problem/index.ts';
import {
  type GapLedger,
  type ReconcileOptions,
  type Reconciliation,
  reconcile,
  withoutRounding,
} from '../../reconcile/index.ts';
import {
  checkDerivation,
  compareModels,
  type DerivationCheck,
  groupRuns,
  plannedGroups,
  type ReducedTrials,
  type Rehearsal,
  type RunGroup,
  reduceTrials,
  rehearse,
  type StepperTable,
  tabulateSteps,
  type WeighedModel,
} from '../../run/index.ts';
import { createPredictor, type Expected, type Predictor, type ToldResult } from './expected.ts';
import { type HandSteps, stepByHand } from './hand-steps.ts';
import { type LabExtras, type NamedSettings, readLabExtras } from './lab-extras.ts';

/** Everything that documents say in numbers, computed once. SI. */
export interface Gathered {
  readonly pipeline: Pipeline;
  readonly extras: LabExtras;
  readonly trials: readonly TrialRun[];
  /** Expected with the lab's own values. */
  readonly own: Expected;
  /** Expected under each setting of the plan. */
  readonly planned: readonly { readonly group: RunGroup; readonly expected: Expected }[];
  readonly kits: readonly { readonly kit: NamedSettings; readonly expected: Expected }[];
  readonly stations: readonly { readonly station: NamedSettings; readonly expected: Expected }[];
  /** The lab's own equipment, each kit and each allowed combination; empty where the lab has no kits. */
  readonly equipment: readonly EquipmentOutlook[];
  /** What each station and the class together are expected to find; null where the lab has no stations. */
  readonly classroom: ClassRehearsal | null;
  readonly slips: readonly SlipResults[];
  /** Null where the lab has no derivation, or its ideal model cannot be run. */
  readonly derivation: DerivationCheck | null;
  /** Null where there are no trials. */
  readonly reduced: ReducedTrials | null;
  readonly reconciliation: Reconciliation;
  /** What the trials say of the models that the lab names; empty where it names none, or there are no trials. */
  readonly models: readonly WeighedModel[];
  /** Plain scatter of the plan, the apparatus drawn within its uncertainties. */
  readonly rehearsal: Rehearsal;
  /** Empty for a model without time. */
  readonly steps: readonly StepperTable[];
  readonly handSteps: HandSteps | null;
  readonly extremes: Extremes;
}

export interface GatherOptions extends ReconcileOptions {
  /** How often the plan is rehearsed; default 60, enough for a scatter to be known to a tenth of itself. */
  readonly rehearsals?: number;
}

/**
 * Runs the lab in every way that its documents need: predict, check the derivation, reduce, reconcile, rehearse,
 * tabulate steps, kits, stations and slips.
 *
 * @param document the lab file that the pipeline's lab was read from
 * @param trials   the real runs; none is allowed, then nothing is said of a measurement
 * @returns fails where prediction, reconciliation or rehearsal fail; a kit or slip that fails is a warning, and is
 * left out
 */
export function gather(
  pipeline: Pipeline,
  document: LabDocument,
  trials: readonly TrialRun[],
  options: GatherOptions = {},
): Outcome<Gathered> {
  const { lab } = pipeline;
  const extras = readLabExtras(lab, document);
  if (!extras.ok) return extras;
  const warnings: Problem[] = [];
  const keep = <T, U>(about: string, outcome: Outcome<T>, make: (value: T) => U): U[] => {
    if (outcome.ok) return [make(outcome.value)];
    warnings.push(
      ...outcome.problems.map(
        (found): Problem => ({
          ...found,
          severity: 'warning',
          message: `${about} is left out of the documents: ${found.message}`,
        }),
      ),
    );
    return [];
  };
  const reconciliation = reconcile(pipeline, trials, options);
  if (!reconciliation.ok) return reconciliation;
  const predictor = createPredictor(pipeline, toldIn(reconciliation.value, groupRuns(lab, trials)));
  const own = predictor([]);
  if (!own.ok) return own;
  const rehearsal = rehearse(pipeline, {
    repeats: options.rehearsals ?? 60,
    drawsQuantities: true,
    ...(options.seed === undefined ? {} : { seed: options.seed }),
    ...(options.signal === undefined ? {} : { signal: options.signal }),
  });
  if (!rehearsal.ok) return rehearsal;
  const { kits, stations } = extras.value;
  const slipped = lab.slips.flatMap((slip) => keep(`The slip "${slip.name}"`, runSlip(pipeline, slip), same));
  warnings.push(...slipped.filter(isIdle).map(({ slip }) => idleSlip(slip, document)));
  const groups = plannedGroups(lab);
  const [derivation = null] =
    lab.derivation.length === 0 ? [] : keep('The derivation', checkDerivation(pipeline), same);
  const [reduced = null] =
    trials.length === 0 ? [] : keep('What was measured', reduceTrials(pipeline, trials), same);
  const [models = []] =
    trials.length === 0 ? [] : keep('Which model the trials choose', compareModels(pipeline, trials), same);
  const [steps = []] =
    lab.model.kind === 'motion'
      ? keep(
          'The table of steps',
          tabulateSteps(pipeline, { uncertainties: scaleOf(reconciliation.value, rehearsal.value) }),
          same,
        )
      : [];
  const working = {
    rehearsals: options.rehearsals ?? 60,
    ...(options.seed === undefined ? {} : { seed: options.seed }),
    ...(options.signal === undefined ? {} : { signal: options.signal }),
  };
  const [equipment = []] =
    lab.kits.length === 0
      ? []
      : keep('What other equipment gives', surveyKits(pipeline, combineKits(lab.kits), working), same);
  const [classroom = null] =
    stations.length === 0 ? [] : keep('What stations find', rehearseClass(pipeline, stations, working), same);
  return succeed(
    {
      pipeline,
      extras: extras.value,
      trials,
      own: own.value,
      planned: groups.flatMap((group) =>
        keep(`The setting ${group.label}`, predictor(group.when), (expected) => ({ group, expected })),
      ),
      kits: lab.kits.flatMap((kit) =>
        keep(`The kit "${kit.name}"`, expectWith(pipeline, kit, predictor), (expected) => ({
          kit,
          expected,
        })),
      ),
      stations: stations.flatMap((station) =>
        keep(`The station "${station.name}"`, predictor(station.set), (expected) => ({ station, expected })),
      ),
      equipment,
      classroom,
      slips: slipped,
      derivation,
      reduced,
      reconciliation: {
        ...reconciliation.value,
        ledgers: reconciliation.value.ledgers.map(withoutRounding),
      },
      models,
      rehearsal: rehearsal.value,
      steps,
      handSteps: stepByHand(pipeline),
      extremes: findExtremes(pipeline, [
        ...groups.map(({ when }) => when),
        ...kits.map(({ set }) => set),
        ...stations.map(({ set }) => set),
      ]),
    },
    [...warnings, ...reconciliation.warnings],
  );
}

/** What is expected with a kit; one with instruments or steps of its own is a lab of its own. */
function expectWith({ lab }: Pipeline, kit: Kit, predictor: Predictor): Outcome<Expected> {
  if (kit.change.instruments === undefined && kit.change.reduction === undefined) return predictor(kit.set);
  const equipped = lab.equip([kit]);
  if (!equipped.ok) return equipped;
  const expected = createPredictor(createPipeline(equipped.value))([]);
  if (!expected.ok) return expected;
  const results = expected.value.results.flatMap((own) => {
    const result = lab.results.find(({ name }) => name === own.result.name);
    return result === undefined ? [] : [{ ...own, result }];
  });
  return succeed({ settings: kit.set, results });
}

function isIdle({ results }: SlipResults): boolean {
  return !results.some(changesResult);
}

function idleSlip({ name }: SlipResults['slip'], document: LabDocument): Problem {
  return warning(
    'slip-changes-nothing',
    document.placeOfKey(['slips', name]),
    `The slip "${name}" changes no result and no theory, told as it is.`,
    'Set the quantity that the class gets wrong, such as where it starts to count.',
  );
}

function same<T>(value: T): T {
  return value;
}

/** The full model's numbers that the ledgers tell, by their settings. */
function toldIn({ ledgers }: Reconciliation, groups: readonly RunGroup[]): readonly ToldResult[] {
  return ledgers.flatMap(({ result, group, full }): ToldResult[] => {
    const settings = group === null ? [] : groups.find(({ label }) => label === group)?.when;
    return settings === undefined ? [] : [{ result, settings, full }];
  });
}

/** What errors of steps are held against: the measured uncertainty, or the scatter of rehearsals. */
function scaleOf({ ledgers, main }: Reconciliation, rehearsal: Rehearsal): ReadonlyMap<string, number> {
  const scale = new Map<string, number>();
  for (const { output, spread } of rehearsal.outputs)
    if (!scale.has(output.result.name)) scale.set(output.result.name, spread);
  for (const [name, index] of main) {
    const u = ledgers[index]?.measured?.standardUncertainty;
    if (u !== undefined && u > 0) scale.set(name, u);
  }
  return scale;
}

/** The ledger that speaks for a result: that of the lab's own settings where they were measured. */
export function mainLedger({ reconciliation }: Gathered, result: string): GapLedger | undefined {
  return reconciliation.ledgers[reconciliation.main.get(result) ?? -1];
}
