/** What a slip is called, what goes wrong, and the sentence that helps. */
export interface SlipPhrases {
  readonly name: string;
  readonly is: string;
  readonly helps: string;
}

/** The general slips: `what` is a quantity in words, `symbol` its symbol. */
const slips = {
  diameterForRadius: (symbol: string, what: string): SlipPhrases => ({
    name: `diameter for radius (${symbol})`,
    is: `the diameter is entered for ${what}`,
    helps: `${symbol} is a radius: half of what a calliper shows across.`,
  }),
  radiusForDiameter: (symbol: string, what: string): SlipPhrases => ({
    name: `radius for diameter (${symbol})`,
    is: `the radius is entered for ${what}`,
    helps: `${symbol} is a diameter: twice the radius.`,
  }),
  degreesForRadians: (symbol: string, what: string, unit: string): SlipPhrases => ({
    name: `degrees for radians (${symbol})`,
    is: `${what} is entered in ${unit} where radians are meant`,
    helps: 'Set the calculator to the unit of the angle, or convert first.',
  }),
  radiansForDegrees: (symbol: string, what: string): SlipPhrases => ({
    name: `radians for degrees (${symbol})`,
    is: `${what} is entered in radians where degrees are meant`,
    helps: 'Set the calculator to the unit of the angle, or convert first.',
  }),
  gramsForKilograms: (symbol: string, what: string, unit: string): SlipPhrases => ({
    name: `grams for kilograms (${symbol})`,
    is: `${what} is entered in ${unit} where kg is meant`,
    helps: `Convert ${symbol} to kg before it is entered.`,
  }),
  unitForMetres: (symbol: string, what: string, unit: string): SlipPhrases => ({
    name: `${unit} for metres (${symbol})`,
    is: `${what} is entered in ${unit} where m is meant`,
    helps: `Convert ${symbol} to m before it is entered.`,
  }),
  largeForSmall: (symbol: string, what: string, large: string, small: string): SlipPhrases => ({
    name: `${large} for ${small} (${symbol})`,
    is: `${what} is entered in ${large} where ${small} is meant`,
    helps: `See in which unit ${symbol} is asked for.`,
  }),
  halfForWhole: (symbol: string, what: string): SlipPhrases => ({
    name: `half for whole (${symbol})`,
    is: `half of ${what} is taken for the whole`,
    helps: `See from where to where ${symbol} is measured.`,
  }),
  wholeForHalf: (symbol: string, what: string): SlipPhrases => ({
    name: `whole for half (${symbol})`,
    is: `twice ${what} is taken`,
    helps: `See from where to where ${symbol} is measured.`,
  }),
  gravityRounded: (): SlipPhrases => ({
    name: 'g rounded to 10',
    is: 'g is rounded to 10 m/s²',
    helps: 'Two per cent are lost by that; take the local value.',
  }),
  hangerForgotten: (symbol: string, what: string): SlipPhrases => ({
    name: `hanger forgotten (${symbol})`,
    is: `${what} is forgotten`,
    helps: 'What holds the masses is pulled by gravity too.',
  }),
  baseUnitReported: (symbol: string, written: string, unit: string): SlipPhrases => ({
    name: `SI unit for ${written} (${symbol})`,
    is: `${symbol} is reported in the SI unit where ${unit} is asked for`,
    helps: `Convert ${symbol} to ${unit}.`,
  }),
  miscounted: (what: 'marks' | 'periods', how: Miscount, to: number, right: number): SlipPhrases => {
    const words = what === 'marks' ? 'marks of the wheel' : 'periods';
    return {
      name: `${MISCOUNTS[how]} ${words} counted`,
      is: `${to} ${words} are entered where there are ${right}`,
      helps: `Count the ${words} again.`,
    };
  },
  firstEdgeMissed: (instrument: string): SlipPhrases => ({
    name: `first edge missed (${instrument})`,
    is: `the first edge of "${instrument}" is not recorded, so that every place is counted one spacing too small`,
    helps: 'Let the gate be ready before the release, or count the marks that went by.',
  }),
  millisecondsForSeconds: (instrument: string): SlipPhrases => ({
    name: `milliseconds for seconds (${instrument})`,
    is: `times of "${instrument}" in milliseconds are taken for seconds`,
    helps: 'See in which unit the logger writes its times.',
  }),
  windowNotKept: (): SlipPhrases => ({
    name: 'window not kept',
    is: 'readings beyond the window in which the model is true are kept',
    helps: 'Keep the part of the run that the lab asks for.',
  }),
  zeroNotSet: (): SlipPhrases => ({
    name: 'zero not set',
    is: 'the zero of the instrument is not taken off',
    helps: 'Set the zero before the run, or take its mean off.',
  }),
  edgeAtEnd: (): SlipPhrases => ({
    name: 'edge at the end of the interval',
    is: 'the mean speed of each interval is put at its end and not at its middle',
    helps: 'A mean speed belongs to the middle of its interval.',
  }),
  halfPeriod: (): SlipPhrases => ({
    name: 'half-period for period',
    is: 'the time from one passage to the next is taken for the period',
    helps: 'A period ends when the swing passes again in the same direction.',
  }),
  twoPeriods: (): SlipPhrases => ({
    name: 'two periods for one',
    is: 'the time of two swings is taken for the period',
    helps: 'Count a swing when it passes in the same direction, and begin at nought.',
  }),
  slopeUpsideDown: (symbol: string): SlipPhrases => ({
    name: `slope upside down (${symbol})`,
    is: `${symbol} is read as run over rise`,
    helps: 'The slope is the change upwards over the change to the right.',
  }),
};

export type Miscount = 'fewer' | 'more' | 'twice' | 'half';

const MISCOUNTS: Readonly<Record<Miscount, string>> = {
  fewer: 'one too few',
  more: 'one too many',
  twice: 'twice as many',
  half: 'half as many',
};

/** Everything that marking says, in English. Its form is the form of every language's table. */
export const english = {
  decimalMark: '.' as '.' | ',',
  slips,
  and: ' and ',
  correct: 'correct',
  unknown: 'nothing known',
  effect: (effect: string, times: string) => `${effect}, ${times} times as large`,
  asExpected: (names: string, count: number, bands: string) =>
    `Your ${names} ${count === 1 ? 'is' : 'are'} as expected: ${bands}.`,
  comesOut: (names: string, count: number, slipped: string) =>
    `Your ${names} ${count === 1 ? 'is' : 'are'} what comes out when ${slipped}.`,
  andWhen: ', and ',
  slipNamed: (name: string) => `the slip "${name}" is made`,
  larger: (names: string, effect: string, times: string) =>
    `Your ${names} would come out if "${effect}" were about ${times} times as large as the lab assumes. Measure it on this apparatus.`,
  nothingGives: (count: number) =>
    `No slip that is known here, and no effect within reason, gives ${count === 1 ? 'this number' : 'these numbers'}. Go through the readings together.`,
  groupsFind: (name: string, low: string, high: string, unit: string) =>
    `95 % of groups find ${name} between ${low} and ${high}${unit === '' ? '' : ` ${unit}`}`,
  lies: (name: string, isWithin: boolean, low: string, high: string, unit: string) =>
    `${name} lies ${isWithin ? 'within' : 'outside'} what 95 % of groups find, ${low} … ${high}${unit === '' ? '' : ` ${unit}`}`,
  fromData: (values: string) => `The readings, reduced as they should be, give ${values}.`,
  list: {
    title: (lab: string) => `${lab}: what the groups reported`,
    about:
      'What each group reported, and what would produce it. The share is how much of all that is considered speaks for the first cause: a help for a conversation, not a grade.',
    group: 'group',
    station: 'station',
    looksLike: 'what it looks like',
    share: 'share',
    orElse: 'or else',
    whatToSay: 'what to say',
    notRead: 'not read',
  },
};
