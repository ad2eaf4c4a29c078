import type { EvolutionProgram } from '../model/index.ts';
import { createFlow, evaluateRates, type Flow, hold, loadParameters } from './flow.ts';
import { evaluatePiece } from './piece.ts';
import type { Track } from './track.ts';

/** Beyond its ends a motion answers for this share of its duration: rounding of the caller's times. */
const graceShare = 1e-9;

/** When a condition under which the model is true first failed. */
export interface Hold {
  readonly name: string;
  readonly failsAt: { readonly t: number; readonly state: Float64Array } | null;
}

/**
 * A motion: every state and signal at any time from `startS` to `endS` (s).
 *
 * 1. Values are bare SI numbers. Outside the motion they are NaN.
 * 2. At a break `signalAt` and `stateAt` give the value after it, `signalBefore` the one before.
 * 3. A motion from a reused evolver answers until the evolver's next run, and throws from then on.
 */
export interface Motion {
  readonly startS: number;
  readonly endS: number;
  /** The stop that ended the motion; null where its time ran out, it came to rest for ever, or jumps pile up. */
  readonly stop: string | null;
  readonly ended: 'by a stop' | 'in time' | 'at rest' | 'where jumps pile up';
  /** Times (s) between start and end at which a branch of rates or signals changed, or states jumped. */
  readonly breaks: Float64Array;
  readonly holds: readonly Hold[];
  readonly steps: {
    readonly accepted: number;
    readonly rejected: number;
    /** Evaluations of the rates. */
    readonly evaluations: number;
    readonly method: readonly string[];
  };
  stateAt(t: number, out: Float64Array): void;
  /** The rates of change of the states; at a break, those after it. */
  ratesAt(t: number, out: Float64Array): void;
  signalAt(index: number, t: number): number;
  signalBefore(index: number, t: number): number;
}

/** What is needed to look at a recorded motion, made once an evolver. */
export interface Viewer {
  readonly program: EvolutionProgram;
  readonly track: Track;
  readonly flow: Flow;
  readonly output: Float64Array;
  /** Counts the runs, so that a motion knows when it has been overwritten. */
  run: number;
  stretch: number;
  record: number;
  endS: number;
}

export function createViewer(program: EvolutionProgram, track: Track): Viewer {
  return {
    program,
    track,
    flow: createFlow(program),
    output: new Float64Array(1),
    run: 0,
    stretch: 0,
    record: -1,
    endS: 0.5,
  };
}

/** Makes the viewer look at the motion that was just recorded. */
export function openViewer(viewer: Viewer, p: Float64Array, constants: Float64Array, endS: number): void {
  loadParameters(viewer.flow, p, constants);
  viewer.stretch = 0;
  viewer.record = -1;
  viewer.endS = endS;
}

/** The parts of a motion that its viewer does not know. */
export type MotionFacts = Pick<Motion, 'startS' | 'endS' | 'stop' | 'ended' | 'holds' | 'steps'>;

export function createMotion(viewer: Viewer, facts: MotionFacts): Motion {
  const run = viewer.run;
  const { track } = viewer;
  const open = (t: number, before: boolean): boolean => {
    if (viewer.run !== run) {
      throw new Error(
        'This motion was overwritten by a later run of its evolver. Look at a motion before the next.',
      );
    }
    return place(viewer, t, before);
  };
  const signal = (index: number, t: number, before: boolean): number => {
    const known = open(t, before);
    if (index < 0 || index >= viewer.program.signals.length) {
      throw new RangeError(
        `The model has ${viewer.program.signals.length} signals, none with index ${index}.`,
      );
    }
    if (!known) return Number.NaN;
    if (viewer.flow.stickingCount > 0) hold(viewer.flow);
    viewer.program.signals[index](viewer.flow.inputs, viewer.output);
    return viewer.output[0];
  };
  return {
    ...facts,
    breaks: track.breaks.slice(0, track.breakCount),
    stateAt(t, out) {
      const known = open(t, false);
      const { flow } = viewer;
      for (let i = 0; i < flow.stateCount; i++) out[i] = known ? flow.inputs[flow.statesAt + i] : Number.NaN;
    },
    ratesAt(t, out) {
      if (open(t, false)) evaluateRates(viewer.flow, out);
      else out.fill(Number.NaN);
    },
    signalAt: (index, t) => signal(index, t, false),
    signalBefore: (index, t) => signal(index, t, true),
  };
}

/** Puts time, state and branches at a time of the motion into the inputs; false outside the motion. */
function place(viewer: Viewer, t: number, before: boolean): boolean {
  const { track, flow, endS } = viewer;
  const startS = track.stretchStart[0];
  const grace = graceShare * (endS - startS);
  if (!(t >= startS - grace && t <= endS + grace)) return false;
  const at = Math.min(endS, Math.max(startS, t));
  let stretch = findStretch(viewer, at);
  while (before && stretch > 0 && track.stretchStart[stretch] === at) stretch--;
  const record = track.stretchRecord[stretch];
  if (record !== viewer.record) loadRecord(viewer, record);
  const piece = track.stretchPiece[stretch];
  const theta = (at - track.pieceStart[piece]) / track.pieceLength[piece];
  flow.inputs[flow.program.inputs.time] = at;
  evaluatePiece(
    track.terms,
    track.pieceOffset[piece],
    track.pieceTerms[piece],
    flow.stateCount,
    theta,
    flow.inputs,
    flow.statesAt,
  );
  return true;
}

/** The last stretch that begins at or before a time; the last one looked at, or its neighbour, is tried first. */
function findStretch(viewer: Viewer, t: number): number {
  const { stretchStart: starts, stretchCount: count } = viewer.track;
  let low = viewer.stretch;
  if (starts[low] <= t) {
    if (low + 1 === count || t < starts[low + 1]) return low;
    if (low + 2 === count || t < starts[low + 2]) {
      viewer.stretch = low + 1;
      return low + 1;
    }
  } else {
    low = 0;
  }
  let high = count;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if (starts[middle] <= t) low = middle;
    else high = middle;
  }
  viewer.stretch = low;
  return low;
}

function loadRecord(viewer: Viewer, record: number): void {
  const { track, flow, program } = viewer;
  const { branches, slips, holdings } = program.inputs;
  const m = program.switches.length;
  const q = program.frictions.length;
  const { records } = track;
  let at = record * track.recordLength;
  for (let i = 0; i < m; i++) flow.inputs[branches + i] = records[at++];
  for (let i = 0; i < q; i++) flow.inputs[slips + i] = records[at++];
  for (let i = 0; i < q; i++) flow.inputs[holdings + i] = records[at++];
  flow.stickingCount = 0;
  for (let i = 0; i < q; i++) {
    flow.modes[i] = records[at++];
    if (flow.modes[i] === 0) flow.stickingCount++;
  }
  viewer.record = record;
}
