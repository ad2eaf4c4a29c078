import type { BaseQuantity, Lab, Slip } from '../lab/index.ts';
import { type Dimension, formatUnit, sameDimension, toSI } from '../quantity/index.ts';
import { slipsOfInstruments } from './instrument-slips.ts';
import { makeSlip, type SlipWords } from './make-slip.ts';
import { slipsOfSteps } from './step-slips.ts';

const LENGTH: Dimension = [1, 0, 0, 0, 0, 0, 0];
const MASS: Dimension = [0, 1, 0, 0, 0, 0, 0];
const ACCELERATION: Dimension = [1, 0, -2, 0, 0, 0, 0];

/**
 * The slips that classes make in any lab, where the lab has what they are about: radius and diameter, degrees and
 * radians, grams and kilograms, half and whole, marks miscounted, the slope upside down, g rounded, places at an
 * interval's end, the window, the zero, the hanger, the period.
 *
 * Whether they change a number of this lab at all is seen when they are run.
 */
export function generalSlips(lab: Lab): readonly Slip[] {
  return [
    ...lab.quantities.base
      .filter(({ index }) => lab.influential.has(index))
      .flatMap((quantity) => slipsOfQuantity(lab, quantity)),
    ...slipsOfInstruments(lab),
    ...slipsOfSteps(lab),
    ...slipsOfReporting(lab),
  ];
}

function slipsOfQuantity(lab: Lab, quantity: BaseQuantity): readonly Slip[] {
  return [
    ...slipsOfRadius(lab, quantity),
    ...slipsOfAngle(lab, quantity),
    ...slipsOfPrefix(lab, quantity),
    ...slipsOfHalf(lab, quantity),
    ...slipsOfGravity(lab, quantity),
    ...slipsOfHanger(lab, quantity),
  ];
}

/** A slip that takes a quantity times a factor. */
function scaled(lab: Lab, quantity: BaseQuantity, factor: number, words: SlipWords): Slip {
  const valueAt = (values: Float64Array) => factor * values[quantity.index];
  return makeSlip(lab, { ...words, set: [{ quantity, valueAt }] });
}

function slipsOfRadius(lab: Lab, quantity: BaseQuantity): readonly Slip[] {
  if (!sameDimension(quantity.dimension, LENGTH)) return [];
  const what = describe(quantity);
  if (/\bradius|\bradii/i.test(quantity.is))
    return [
      scaled(lab, quantity, 2, {
        name: `diameter for radius (${quantity.name})`,
        is: `the diameter is entered for ${what}`,
        helps: `${quantity.name} is a radius: half of what a calliper shows across.`,
      }),
    ];
  if (/\bdiameter/i.test(quantity.is))
    return [
      scaled(lab, quantity, 0.5, {
        name: `radius for diameter (${quantity.name})`,
        is: `the radius is entered for ${what}`,
        helps: `${quantity.name} is a diameter: twice the radius.`,
      }),
    ];
  return [];
}

function slipsOfAngle(lab: Lab, quantity: BaseQuantity): readonly Slip[] {
  if (quantity.unit.angle !== 1 || !sameDimension(quantity.dimension, [0, 0, 0, 0, 0, 0, 0])) return [];
  const factor = quantity.unit.factor;
  const what = describe(quantity);
  if (factor !== 1)
    return [
      scaled(lab, quantity, 1 / factor, {
        name: `degrees for radians (${quantity.name})`,
        is: `${what} is entered in ${formatUnit(quantity.unit)} where radians are meant`,
        helps: 'Set the calculator to the unit of the angle, or convert first.',
      }),
    ];
  return [
    scaled(lab, quantity, Math.PI / 180, {
      name: `radians for degrees (${quantity.name})`,
      is: `${what} is entered in radians where degrees are meant`,
      helps: 'Set the calculator to the unit of the angle, or convert first.',
    }),
  ];
}

/** 251.3 g entered as 251.3 kg, 25.1 mm as 25.1 m, or the other way round. */
function slipsOfPrefix(lab: Lab, quantity: BaseQuantity): readonly Slip[] {
  const { unit } = quantity;
  const isMass = sameDimension(quantity.dimension, MASS);
  if (!isMass && !sameDimension(quantity.dimension, LENGTH)) return [];
  const what = describe(quantity);
  const base = isMass ? 'kg' : 'm';
  if (unit.factor !== 1)
    return [
      scaled(lab, quantity, 1 / unit.factor, {
        name: isMass
          ? `grams for kilograms (${quantity.name})`
          : `${unit.text} for metres (${quantity.name})`,
        is: `${what} is entered in ${formatUnit(unit)} where ${base} is meant`,
        helps: `Convert ${quantity.name} to ${base} before it is entered.`,
      }),
    ];
  const [small, factor] = isMass ? (['g', 1e-3] as const) : (['cm', 1e-2] as const);
  return [
    scaled(lab, quantity, factor, {
      name: `${base} for ${small} (${quantity.name})`,
      is: `${what} is entered in ${base} where ${small} is meant`,
      helps: `See in which unit ${quantity.name} is asked for.`,
    }),
  ];
}

function slipsOfHalf(lab: Lab, quantity: BaseQuantity): readonly Slip[] {
  // Radius and diameter are half and whole with names of their own.
  if (!sameDimension(quantity.dimension, LENGTH) || /radius|radii|diameter/i.test(quantity.is)) return [];
  const what = describe(quantity);
  return [
    scaled(lab, quantity, 0.5, {
      name: `half for whole (${quantity.name})`,
      is: `half of ${what} is taken for the whole`,
      helps: `See from where to where ${quantity.name} is measured.`,
    }),
    scaled(lab, quantity, 2, {
      name: `whole for half (${quantity.name})`,
      is: `twice ${what} is taken`,
      helps: `See from where to where ${quantity.name} is measured.`,
    }),
  ];
}

function slipsOfGravity(lab: Lab, quantity: BaseQuantity): readonly Slip[] {
  const isGravity =
    sameDimension(quantity.dimension, ACCELERATION) &&
    /^g$|gravity|free fall/i.test(`${quantity.name === 'g' ? 'gravity' : ''} ${quantity.is}`);
  if (!isGravity) return [];
  return [
    makeSlip(lab, {
      name: 'g rounded to 10',
      is: 'g is rounded to 10 m/s²',
      helps: 'Two per cent are lost by that; take the local value.',
      set: [{ quantity, valueAt: () => 10 }],
    }),
  ];
}

function slipsOfHanger(lab: Lab, quantity: BaseQuantity): readonly Slip[] {
  const isHanger =
    sameDimension(quantity.dimension, MASS) && /hanger|hook|pan\b|holder|carrier/i.test(quantity.is);
  if (!isHanger) return [];
  return [
    makeSlip(lab, {
      name: `hanger forgotten (${quantity.name})`,
      is: `${describe(quantity)} is forgotten`,
      helps: 'What holds the masses is pulled by gravity too.',
      set: [{ quantity, valueAt: () => 0 }],
    }),
  ];
}

/** The number is right and its unit is not: 2.3 m/s reported as 2.3 where mm/s is asked for, and powers of ten. */
function slipsOfReporting(lab: Lab): readonly Slip[] {
  return lab.results.flatMap((result, index): Slip[] => {
    const { unit } = result;
    if (unit.factor === 1) return [];
    return [
      makeSlip(lab, {
        name: `SI unit for ${unit.text} (${result.name})`,
        is: `${result.name} is reported in the SI unit where ${formatUnit(unit)} is asked for`,
        helps: `Convert ${result.name} to ${formatUnit(unit)}.`,
        reported: [
          {
            result,
            evaluate: (results) => toSI(results[index], unit, 'interval'),
          },
        ],
      }),
    ];
  });
}

/** 'R, radius at which the chain rides'. */
function describe({ name, is }: BaseQuantity): string {
  return is === '' ? name : `${name} (${is})`;
}
