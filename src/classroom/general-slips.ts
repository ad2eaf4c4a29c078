import type { BaseQuantity, Lab, Slip } from '../lab/index.ts';
import { type Dimension, formatUnit, sameDimension, toSI } from '../quantity/index.ts';
import { slipsOfInstruments } from './instrument-slips.ts';
import { type MarkingLanguage, type MarkingPhrases, phrasesOf } from './language/index.ts';
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
export function generalSlips(lab: Lab, language: MarkingLanguage = 'en'): readonly Slip[] {
  const { slips } = phrasesOf(language);
  return [
    ...lab.quantities.base
      .filter(({ index }) => lab.influential.has(index))
      .flatMap((quantity) => slipsOfQuantity(lab, quantity, slips)),
    ...slipsOfInstruments(lab, slips),
    ...slipsOfSteps(lab, slips),
    ...slipsOfReporting(lab, slips),
  ];
}

type Words = MarkingPhrases['slips'];

function slipsOfQuantity(lab: Lab, quantity: BaseQuantity, words: Words): readonly Slip[] {
  return [
    ...slipsOfRadius(lab, quantity, words),
    ...slipsOfAngle(lab, quantity, words),
    ...slipsOfPrefix(lab, quantity, words),
    ...slipsOfHalf(lab, quantity, words),
    ...slipsOfGravity(lab, quantity, words),
    ...slipsOfHanger(lab, quantity, words),
  ];
}

/** A slip that takes a quantity times a factor. */
function scaled(lab: Lab, quantity: BaseQuantity, factor: number, words: SlipWords): Slip {
  const valueAt = (values: Float64Array) => factor * values[quantity.index];
  return makeSlip(lab, { ...words, set: [{ quantity, valueAt }] });
}

function slipsOfRadius(lab: Lab, quantity: BaseQuantity, words: Words): readonly Slip[] {
  if (!sameDimension(quantity.dimension, LENGTH)) return [];
  const what = describe(quantity);
  if (/\bradius|\bradii/i.test(quantity.is))
    return [scaled(lab, quantity, 2, words.diameterForRadius(quantity.name, what))];
  if (/\bdiameter|durchmesser/i.test(quantity.is))
    return [scaled(lab, quantity, 0.5, words.radiusForDiameter(quantity.name, what))];
  return [];
}

function slipsOfAngle(lab: Lab, quantity: BaseQuantity, words: Words): readonly Slip[] {
  if (quantity.unit.angle !== 1 || !sameDimension(quantity.dimension, [0, 0, 0, 0, 0, 0, 0])) return [];
  const factor = quantity.unit.factor;
  const what = describe(quantity);
  if (factor !== 1)
    return [
      scaled(
        lab,
        quantity,
        1 / factor,
        words.degreesForRadians(quantity.name, what, formatUnit(quantity.unit)),
      ),
    ];
  return [scaled(lab, quantity, Math.PI / 180, words.radiansForDegrees(quantity.name, what))];
}

/** 251.3 g entered as 251.3 kg, 25.1 mm as 25.1 m, or the other way round. */
function slipsOfPrefix(lab: Lab, quantity: BaseQuantity, words: Words): readonly Slip[] {
  const { unit } = quantity;
  const isMass = sameDimension(quantity.dimension, MASS);
  if (!isMass && !sameDimension(quantity.dimension, LENGTH)) return [];
  const what = describe(quantity);
  if (unit.factor !== 1)
    return [
      scaled(
        lab,
        quantity,
        1 / unit.factor,
        isMass
          ? words.gramsForKilograms(quantity.name, what, formatUnit(unit))
          : words.unitForMetres(quantity.name, what, formatUnit(unit)),
      ),
    ];
  const [base, small, factor] = isMass ? (['kg', 'g', 1e-3] as const) : (['m', 'cm', 1e-2] as const);
  return [scaled(lab, quantity, factor, words.largeForSmall(quantity.name, what, base, small))];
}

function slipsOfHalf(lab: Lab, quantity: BaseQuantity, words: Words): readonly Slip[] {
  // Radius and diameter are half and whole with names of their own.
  if (!sameDimension(quantity.dimension, LENGTH) || /radius|radii|diameter|durchmesser/i.test(quantity.is))
    return [];
  const what = describe(quantity);
  return [
    scaled(lab, quantity, 0.5, words.halfForWhole(quantity.name, what)),
    scaled(lab, quantity, 2, words.wholeForHalf(quantity.name, what)),
  ];
}

function slipsOfGravity(lab: Lab, quantity: BaseQuantity, words: Words): readonly Slip[] {
  const isGravity =
    sameDimension(quantity.dimension, ACCELERATION) &&
    /^g$|gravity|free fall|fallbeschleunigung|schwere/i.test(
      `${quantity.name === 'g' ? 'gravity' : ''} ${quantity.is}`,
    );
  if (!isGravity) return [];
  return [
    makeSlip(lab, {
      ...words.gravityRounded(),
      set: [{ quantity, valueAt: () => 10 }],
    }),
  ];
}

function slipsOfHanger(lab: Lab, quantity: BaseQuantity, words: Words): readonly Slip[] {
  const isHanger =
    sameDimension(quantity.dimension, MASS) &&
    /hanger|hook|pan\b|holder|carrier|haken|halter|schale|träger/i.test(quantity.is);
  if (!isHanger) return [];
  return [
    makeSlip(lab, {
      ...words.hangerForgotten(quantity.name, describe(quantity)),
      set: [{ quantity, valueAt: () => 0 }],
    }),
  ];
}

/** The number is right and its unit is not: 2.3 m/s reported as 2.3 where mm/s is asked for, and powers of ten. */
function slipsOfReporting(lab: Lab, words: Words): readonly Slip[] {
  return lab.results.flatMap((result, index): Slip[] => {
    const { unit } = result;
    if (unit.factor === 1) return [];
    return [
      makeSlip(lab, {
        ...words.baseUnitReported(result.name, unit.text, formatUnit(unit)),
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
