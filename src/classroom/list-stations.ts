import { quasiRandomPoints, randomSource } from '../inference/index.ts';
import type { DrawnFrom, DrawnStations, Lab, Setting } from '../lab/index.ts';

/** One student group's place. */
export interface StationOfGroup {
  readonly name: string;
  readonly set: readonly Setting[];
}

export interface ListOptions {
  /** How many groups there are; the lab's own number where left out. */
  readonly groups?: number;
  /** In place of the lab's own seed for drawn values. */
  readonly seed?: number;
}

/** Where an author gives no step, values are rounded to this share of the range, to a 1, 2 or 5. */
const ROUNDING = 1 / 100;

/**
 * The stations of a class: those that are listed, then drawn ones until there are enough; where nothing is drawn, the
 * listed ones are given out again ('A 2').
 */
export function listStations(lab: Lab, options: ListOptions = {}): readonly StationOfGroup[] {
  const { listed, drawn } = lab.stations;
  const own = listed.map(({ name, set }) => ({ name, set }));
  if (drawn === null) return own.length === 0 ? [] : giveOut(own, options.groups ?? own.length);
  const wanted = options.groups ?? own.length + drawn.groups;
  const drawnStations = drawStations(drawn, Math.max(wanted - own.length, 0), options.seed);
  return [...own, ...drawnStations].slice(0, wanted);
}

function giveOut(stations: readonly StationOfGroup[], groups: number): readonly StationOfGroup[] {
  return Array.from({ length: groups }, (_, index) => {
    const station = stations[index % stations.length];
    const round = Math.floor(index / stations.length) + 1;
    return { name: round === 1 ? station.name : `${station.name} ${round}`, set: station.set };
  });
}

/**
 * Draws the values of stations. They fill their ranges evenly however many there are, and the first of many are the
 * same as fewer: a group that comes late changes nobody's values.
 *
 * Source of the sequence: see quasiRandomPoints
 */
export function drawStations(
  drawn: DrawnStations,
  groups: number,
  seed = drawn.seed,
): readonly StationOfGroup[] {
  const points = quasiRandomPoints(drawn.from.length, randomSource(seed));
  const point = new Float64Array(drawn.from.length);
  return Array.from({ length: groups }, (_, index) => {
    points.next(point);
    return {
      name: `group ${index + 1}`,
      set: drawn.from.map((from, dimension) => ({
        quantity: from.quantity,
        value: pick(from, point[dimension]),
      })),
    };
  });
}

function pick(from: DrawnFrom, share: number): number {
  if (from.kind === 'list') return from.values[Math.floor(share * from.values.length)] ?? Number.NaN;
  const step = from.step ?? roundStep((from.to - from.from) * ROUNDING);
  const steps = Math.floor((from.to - from.from) / step + 1e-9);
  const value = from.from + Math.floor(share * (steps + 1)) * step;
  return Number(value.toPrecision(12));
}

/** The 1, 2 or 5 times a power of ten at or below a size. */
function roundStep(size: number): number {
  const decade = 10 ** Math.floor(Math.log10(size));
  const lead = size / decade;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * decade;
}
