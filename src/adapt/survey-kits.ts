import { createPipeline, type Kit, type Lab, type LabResult, type Pipeline } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Course } from './course.ts';
import { createGauge, type GaugeOptions, type Scatter, type Spot } from './gauge.ts';
import { type FoundHazard, findHazards } from './hazards.ts';
import { type Judgement, judge } from './judgement.ts';

/** One result as it is expected with a set of equipment; SI. */
export interface ResultOutlook {
  readonly result: LabResult;
  /** NaN where the lab gives no formula. */
  readonly theory: number;
  readonly ideal: number;
  readonly full: number;
  /** One an effect, in the lab's order; they add up to full − ideal. */
  readonly shares: Float64Array;
  /** Mean, standard deviation and central 95 % over rehearsals; NaN where they could not be rehearsed. */
  readonly mean: number;
  readonly spread: number;
  readonly low: number;
  readonly high: number;
}

/** What is expected with a set of equipment. */
export interface Outlook {
  readonly results: readonly ResultOutlook[];
  readonly course: Course;
  readonly hazards: readonly FoundHazard[];
  /** Null where no rehearsal could be done. */
  readonly scatter: Scatter | null;
}

/** One set of equipment: the lab as given, a kit, or kits that the author allows together. */
export interface EquipmentOutlook {
  /** Empty for the lab as given. */
  readonly kits: readonly Kit[];
  /** Null where the equipment breaks the model; the judgement says why. */
  readonly outlook: Outlook | null;
  readonly problems: readonly Problem[];
  readonly judgement: Judgement;
}

export interface SurveyOptions extends GaugeOptions {
  readonly progress?: (done: number, total: number) => void;
}

/** Rehearsals of each set of equipment: limits of 95 % need more than a spread. */
const KIT_REHEARSALS = 100;

/** Most sets of equipment that are gone through; allowed pairs of many kits are thousands. */
const MOST_SETS = 200;

/** The lab as given, each kit, and every combination in which each kit allows each other. */
export function combineKits(kits: readonly Kit[]): readonly (readonly Kit[])[] {
  const sets: (readonly Kit[])[] = [[]];
  // Sets grow by kits that stand later in the file, so each is met once; small ones come first.
  for (let from = 0; from < sets.length && sets.length < MOST_SETS; from++) {
    const set = sets[from] ?? [];
    const last = kits.findIndex((kit) => kit === set[set.length - 1]);
    for (const kit of kits.slice(last + 1)) {
      if (set.every(({ name }) => kit.with.has(name))) sets.push([...set, kit]);
    }
  }
  return sets.slice(0, MOST_SETS);
}

/**
 * What is expected with the lab's own equipment, with every kit and with every combination that the author allows:
 * results with their scatter, gap by effect, where the model stops being true, readings in the window, judgement.
 *
 * @returns fails only where the lab as given cannot be run; a kit that breaks the model is judged as such
 */
export function surveyKits(
  pipeline: Pipeline,
  sets: readonly (readonly Kit[])[],
  options: SurveyOptions = {},
): Outcome<readonly EquipmentOutlook[]> {
  const { lab } = pipeline;
  if (lab.results.length === 0) {
    const message = 'The lab names no results, so there is nothing to expect of a kit.';
    return fail(problem('no-results', { file: lab.file }, message, 'Add "results" to the lab file.'));
  }
  const own = lookAt(pipeline, options);
  if (!own.ok) return own;
  const outlooks: EquipmentOutlook[] = [];
  for (const [index, kits] of sets.entries()) {
    if (options.signal?.aborted === true)
      return fail(problem('cancelled', { file: lab.file }, 'The computation was cancelled.'));
    outlooks.push(outlookOf(lab, kits, own.value, options));
    options.progress?.(index + 1, sets.length);
  }
  return succeed(outlooks);
}

function outlookOf(lab: Lab, kits: readonly Kit[], own: Outlook, options: SurveyOptions): EquipmentOutlook {
  if (kits.length === 0) return { kits, outlook: own, problems: [], judgement: judgeOutlook(own, own) };
  const equipped = lab.equip(kits);
  const outlook = equipped.ok ? lookAt(createPipeline(equipped.value), options) : equipped;
  if (outlook.ok)
    return { kits, outlook: outlook.value, problems: [], judgement: judgeOutlook(outlook.value, own) };
  const because = outlook.problems[0]?.message ?? '';
  return {
    kits,
    outlook: null,
    problems: outlook.problems,
    judgement: { verdict: 'will disappoint', reasons: [{ kind: 'cannot run', because }] },
  };
}

function lookAt(pipeline: Pipeline, options: SurveyOptions): Outcome<Outlook> {
  return lookAtSpot(pipeline.lab, createGauge(pipeline, { rehearsals: KIT_REHEARSALS, ...options }).at([]));
}

/** All that is expected at one spot. */
export function lookAtSpot(lab: Lab, spot: Spot): Outcome<Outlook> {
  const full = spot.full();
  const ideal = spot.ideal();
  const shares = spot.shares();
  const course = spot.course();
  if (!full.ok) return full;
  if (!ideal.ok) return ideal;
  if (!shares.ok) return shares;
  if (!course.ok) return course;
  const scatter = spot.scatter();
  const count = lab.effects.length;
  return succeed({
    results: lab.results.map((result, index): ResultOutlook => {
      const rehearsed = scatter.ok
        ? scatter.value.results.find(({ output }) => output.result === result)
        : undefined;
      return {
        result,
        theory: spot.theory[index],
        ideal: ideal.value[index],
        full: full.value[index],
        shares: shares.value.slice(index * count, (index + 1) * count),
        mean: rehearsed?.mean ?? Number.NaN,
        spread: rehearsed?.spread ?? Number.NaN,
        low: rehearsed?.low ?? Number.NaN,
        high: rehearsed?.high ?? Number.NaN,
      };
    }),
    course: course.value,
    hazards: findHazards(course.value.extremes),
    scatter: scatter.ok ? scatter.value : null,
  });
}

/** The result that equipment is judged by: the first that has a theory, else the first. */
export function judgedResult(results: readonly ResultOutlook[]): ResultOutlook | undefined {
  return results.find(({ theory }) => Number.isFinite(theory)) ?? results[0];
}

function judgeOutlook({ results, course, hazards, scatter }: Outlook, own: Outlook): Judgement {
  const judged = judgedResult(results);
  if (judged === undefined) return { verdict: 'works well', reasons: [] };
  const { fails, ended } = course;
  return judge({
    ...judged,
    failing: failingOf(scatter),
    readings: course.readings,
    endsEarly:
      fails === null || ended === null || ended.t === 0
        ? null
        : { name: fails.name, share: fails.t / ended.t },
    newHazards: hazards.filter(({ kind }) => !own.hazards.some((known) => known.kind === kind)),
  });
}

function failingOf(scatter: Scatter | null): { readonly share: number; readonly because: string } | null {
  if (scatter === null) return { share: 1, because: 'no rehearsal could be reduced' };
  if (scatter.failed === 0) return null;
  return {
    share: scatter.failed / (scatter.failed + scatter.rehearsals),
    because: scatter.firstFailure?.message ?? '',
  };
}
