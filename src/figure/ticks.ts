import { scaleLinear } from 'd3-scale';
import { type DecimalMark, formatNumber } from '../quantity/index.ts';
import { fromText, joinText, type RichText } from './rich-text.ts';
import { placing, type Scale } from './scale.ts';

export interface Tick {
  readonly value: number;
  readonly label: RichText;
}

/** The ticks of an axis, thinned until their labels have room. */
export interface Ticks {
  readonly labelled: readonly Tick[];
  /** Values of ticks without a label. */
  readonly bare: readonly number[];
  /** Power of ten that the labels leave out and the axis title names: a tick at 0.002 m labelled 2 has −3. */
  readonly exponent: number;
}

/** How much of the axis a label takes, and how far apart two must be at least; points. */
export interface LabelRoom {
  lengthPt(label: RichText): number;
  readonly gapPt: number;
  /** A distance between ticks that is pleasant to read. */
  readonly usualPt: number;
}

/** Largest values with their first digit at these powers of ten are labelled as they are. */
const PLAIN = { least: -3, most: 4 } as const;

/** So many ticks are tried even on a short axis: one label alone tells no scale. */
const FEW = 4;

/**
 * Ticks at round values, as many as have room.
 *
 * Linear: multiples of 1, 2 or 5 times a power of ten. Logarithmic: powers of ten, or every second, third … of them;
 * over less than two decades also 2 and 5; over a small part of a decade as on a linear scale.
 */
export function ticksOf(scale: Scale, decimalMark: DecimalMark, room: LabelRoom): Ticks {
  return scale.kind === 'linear' ? linearTicks(scale, decimalMark, room) : logTicks(scale, decimalMark, room);
}

function linearTicks(scale: Scale, decimalMark: DecimalMark, room: LabelRoom): Ticks {
  const lengthPt = Math.abs(scale.range[1] - scale.range[0]);
  const exponent = sharedExponent(scale.domain);
  const most = Math.min(10, Math.max(FEW, Math.floor(lengthPt / room.usualPt)));
  for (let count = most; count >= 1; count--) {
    const values = scaleLinear(scale.domain, scale.range).ticks(count);
    const labelled = labelLinear(values, exponent, decimalMark);
    if (haveRoom(labelled, scale, room)) return { labelled, bare: [], exponent };
  }
  return { labelled: [], bare: [], exponent };
}

function labelLinear(values: readonly number[], exponent: number, decimalMark: DecimalMark): readonly Tick[] {
  const unit = 10 ** exponent;
  const step = values.length < 2 ? Math.abs(values[0] ?? 1) / unit || 1 : (values[1] - values[0]) / unit;
  const decimals = Math.min(100, Math.max(0, -Math.floor(Math.log10(step) + 1e-6)));
  return values.map((value) => ({
    value,
    // Adding zero makes a negative zero positive.
    label: fromText(formatNumber(value / unit + 0, { decimals, decimalMark })),
  }));
}

function sharedExponent([low, high]: readonly [number, number]): number {
  const lead = Math.floor(Math.log10(Math.max(Math.abs(low), Math.abs(high))));
  return lead > PLAIN.most || lead < PLAIN.least ? 3 * Math.floor(lead / 3) : 0;
}

function logTicks(scale: Scale, decimalMark: DecimalMark, room: LabelRoom): Ticks {
  const [low, high] = scale.domain;
  const decades = Math.log10(high / low);
  const powers: number[] = [];
  for (let power = Math.ceil(Math.log10(low) - 1e-9); power <= Math.log10(high) + 1e-9; power++)
    powers.push(power);
  const between = decades > 8 ? [] : multiplesWithin(powers, [2, 3, 4, 5, 6, 7, 8, 9], low, high);
  if (decades < 2) {
    for (const multiples of [[1, 2, 5], [1]]) {
      const values = multiplesWithin(powers, multiples, low, high);
      const labelled = values.map((value) => ({
        value,
        label: fromText(formatNumber(value, { decimalMark })),
      }));
      if (values.length >= 2 && haveRoom(labelled, scale, room))
        return { labelled, bare: without(between, values), exponent: 0 };
    }
    return ticksAsOnLinear(scale, decimalMark, room);
  }
  const plain = powers.every((power) => Math.abs(power) <= 3);
  for (let every = 1; every <= Math.max(powers.length, 1); every++) {
    const labelled = powers
      .filter((power) => power % every === 0)
      .map((power) => ({ value: Number(`1e${power}`), label: labelPower(power, plain, decimalMark) }));
    if (haveRoom(labelled, scale, room)) {
      const bare = every === 1 ? between : powers.map((power) => Number(`1e${power}`));
      return {
        labelled,
        bare: without(
          bare,
          labelled.map(({ value }) => value),
        ),
        exponent: 0,
      };
    }
  }
  return { labelled: [], bare: between, exponent: 0 };
}

/** Less than a decade shows too few round multiples: the round values of a linear scale, at their places on this one. */
function ticksAsOnLinear(scale: Scale, decimalMark: DecimalMark, room: LabelRoom): Ticks {
  for (let count = 8; count >= 1; count--) {
    const values = scaleLinear(scale.domain, scale.range)
      .ticks(count)
      .filter((value) => value > 0);
    const labelled = values.map((value) => ({
      value,
      label: fromText(formatNumber(value, { decimalMark })),
    }));
    if (values.length > 0 && haveRoom(labelled, scale, room)) return { labelled, bare: [], exponent: 0 };
  }
  return { labelled: [], bare: [], exponent: 0 };
}

function multiplesWithin(
  powers: readonly number[],
  multiples: readonly number[],
  low: number,
  high: number,
): readonly number[] {
  const [first] = powers;
  const all = first === undefined ? [Math.floor(Math.log10(low))] : [first - 1, ...powers];
  return all
    .flatMap((power) => multiples.map((multiple) => Number(`${multiple}e${power}`)))
    .filter((value) => value >= low && value <= high);
}

function without(values: readonly number[], taken: readonly number[]): readonly number[] {
  return values.filter((value) => !taken.includes(value));
}

function labelPower(power: number, plain: boolean, decimalMark: DecimalMark): RichText {
  if (plain) return fromText(formatNumber(Number(`1e${power}`), { decimalMark }));
  return powerOfTen(power);
}

/** 10 with a raised exponent. */
export function powerOfTen(exponent: number): RichText {
  const text = String(exponent).replace('-', '\u2212');
  return joinText('10', [{ text, style: 'upright', level: 'raised' }]);
}

function haveRoom(ticks: readonly Tick[], scale: Scale, room: LabelRoom): boolean {
  const place = placing(scale);
  const spans = ticks.map(({ value, label }) => ({ at: place(value), half: room.lengthPt(label) / 2 }));
  return spans.every((span, index) => {
    const last = spans[index - 1];
    return last === undefined || Math.abs(span.at - last.at) >= last.half + span.half + room.gapPt;
  });
}
