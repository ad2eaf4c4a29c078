import type { Lab, LabInstrument } from '../../lab/index.ts';
import { type Dimension, sameDimension } from '../../quantity/index.ts';
import type { Phrases } from '../language/index.ts';
import { movesSomething } from './moves-something.ts';

/** What makes runs differ more than they should, to be looked at first. */
export type ScatterCue = keyof Phrases['guide']['scatterCues'];

/** Exponents of metre, kilogram, second, ampere, kelvin, mole and candela. */
const BY_DIMENSION: readonly { readonly dimension: Dimension; readonly cue: ScatterCue }[] = [
  { dimension: [2, 1, -3, -1, 0, 0, 0], cue: 'contacts' },
  { dimension: [0, 0, 0, 1, 0, 0, 0], cue: 'contacts' },
  { dimension: [2, 1, -3, -2, 0, 0, 0], cue: 'contacts' },
  { dimension: [0, 0, 0, 0, 1, 0, 0], cue: 'thermometer' },
  { dimension: [1, 1, -2, 0, 0, 0, 0], cue: 'forceZero' },
];

const BY_KIND: Readonly<Record<string, ScatterCue>> = {
  edges: 'wheel',
  gates: 'gates',
  frames: 'camera',
  stopwatch: 'watch',
  ruler: 'scale',
};

/**
 * What to look at when runs scatter, by what the lab's instruments are: the release first where something moves, then
 * one cue an instrument; how runs begin where no instrument says more.
 */
export function scatterCues(lab: Pick<Lab, 'instruments' | 'model'>): readonly ScatterCue[] {
  const ofInstruments = lab.instruments.flatMap((instrument) => cueOf(instrument) ?? []);
  const cues: readonly ScatterCue[] = movesSomething(lab.model)
    ? ['release', ...ofInstruments]
    : ofInstruments;
  return cues.length === 0 ? ['began'] : [...new Set(cues)];
}

/** By what the instrument reads, else by how it reads. */
function cueOf({ kind, shape }: LabInstrument): ScatterCue | undefined {
  const known = BY_DIMENSION.find(({ dimension }) => sameDimension(dimension, shape.dimension));
  return known?.cue ?? BY_KIND[kind.kind];
}
