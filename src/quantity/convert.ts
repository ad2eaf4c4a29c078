import { fail, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import { describeDimension, sameDimension } from './dimension.ts';
import { formatUnit } from './format-measured.ts';
import { fromSI, type Kind, toSI, type Unit } from './unit.ts';

/**
 * Whether a value in one unit can be told in another.
 *
 * Units of different dimension cannot. Nor can units that differ in plane angle although their dimension is the same:
 * 60 rpm is 2π rad/s and one turn a second, so that Hz ↔ rad/s without a word would be wrong by 2π as often as not.
 *
 * @returns nothing, or `different-dimension` with both dimensions, or `different-angle` with what to do
 */
export function convertibleTo(from: Unit, to: Unit, place: Place = {}): Outcome<void> {
  if (!sameDimension(from.dimension, to.dimension))
    return fail(
      problem(
        'different-dimension',
        place,
        `${nameUnit(from)} has the dimension of ${describeDimension(from.dimension)}, ${nameUnit(to)} that of ${describeDimension(to.dimension)}; a value in one cannot be told in the other.`,
      ),
    );
  if (Math.abs(from.angle - to.angle) > 1e-9)
    return fail(
      problem(
        'different-angle',
        place,
        `${nameUnit(from)} ${describeAngle(from.angle)}, ${nameUnit(to)} ${describeAngle(to.angle)}; they are not converted without being asked.`,
        adviseAngle(from, to),
      ),
    );
  return succeed(undefined);
}

/** A value in another unit, where `convertibleTo` allows it. */
export function convertValue(
  value: number,
  from: Unit,
  to: Unit,
  as: Kind,
  place: Place = {},
): Outcome<number> {
  const allowed = convertibleTo(from, to, place);
  return allowed.ok ? succeed(fromSI(toSI(value, from, as), to, as)) : allowed;
}

function nameUnit(unit: Unit): string {
  const printed = formatUnit(unit);
  return printed === '' ? 'A plain number' : printed;
}

function describeAngle(angle: number): string {
  if (angle === 0) return 'carries no angle';
  return angle === 1 ? 'carries an angle' : `carries angle to the power ${Number(angle.toPrecision(6))}`;
}

function adviseAngle(from: Unit, to: Unit): string {
  const perSecond = from.dimension[2] === -1;
  return perSecond
    ? `Say which is meant: a rotation of 1 Hz is 2π rad/s. Multiply or divide by 2*pi where the value is made, or use the unit ${nameUnit(from.angle === 0 ? to : from)} for both.`
    : `Give the angle's unit on both sides (rad or degree), or on neither.`;
}
