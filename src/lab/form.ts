import * as z from 'zod';

/** A number with its unit ('1.2 m'), a plain number, or, in settings, an expression of quantities. */
const written = z.union([z.string(), z.number()]);

const words = z.string();

const estimateOfUncertainty = {
  u: written.optional().describe('Standard uncertainty, with its unit.'),
  within: written
    .optional()
    .describe('Limits: the value lies within plus or minus this, each place alike (rectangular).'),
  reading: written
    .optional()
    .describe('One division of a digital display or scale; the reading is within half of it.'),
  expanded: z
    .strictObject({
      U: written.describe('Expanded uncertainty, with its unit.'),
      k: z.number().gt(0.01).lt(1000).describe('Coverage factor.'),
    })
    .optional()
    .describe('Expanded uncertainty U with its coverage factor k.'),
  dof: z.number().gt(0.01).optional().describe('Degrees of freedom of the standard uncertainty u.'),
};

const eachRun = z.strictObject({
  u: written.optional().describe('Standard deviation from run to run, with its unit.'),
  within: written
    .optional()
    .describe('Limits: a run lies within plus or minus this, each place alike (rectangular).'),
  reading: written
    .optional()
    .describe('One division of the scale by which each run is set; a run lies within half of it.'),
});

const quantity = z.strictObject({
  is: words.optional().describe('What the symbol stands for.'),
  value: written.optional().describe('Value with its unit, such as 1.2 m.'),
  ...estimateOfUncertainty,
  'each run': eachRun
    .optional()
    .describe(
      'How far the value of a single run may lie from this one: it differs from run to run, so that a mean over runs knows it better.',
    ),
  observed: z
    .array(written)
    .optional()
    .describe('Repeated readings with units: mean and standard error are taken.'),
  equals: written.optional().describe('Expression of other quantities that gives the value.'),
  unit: z.string().optional().describe('Unit in which a computed quantity is printed.'),
  at: z
    .strictObject({
      latitude: written.describe('Latitude; a plain number is in degrees.'),
      height: written.optional().describe('Height above sea level.'),
    })
    .optional()
    .describe('Place on the Earth: the value is the normal gravity there.'),
  from: words.optional().describe('Where the value is from.'),
});

const conditions = z.record(z.string(), z.string());

const model = z.strictObject({
  start: z.record(z.string(), written).optional().describe('Value of each state at the start.'),
  rates: z.record(z.string(), written).optional().describe('Rate of change of each state.'),
  stops: conditions.optional().describe('Conditions that end the motion.'),
  lasts: written.optional().describe('Duration after which the motion ends in any case.'),
  'holds while': conditions.optional().describe('Conditions under which the model is true.'),
  jumps: z
    .record(
      z.string(),
      z.strictObject({
        when: z.string().describe('Condition; the jump comes at the moment when it becomes true.'),
        sets: z
          .record(z.string(), written)
          .describe('New value of each state that jumps, an expression of the state before the jump.'),
      }),
    )
    .optional()
    .describe('What changes all at once, such as the speed of a ball that meets the floor.'),
  relation: z.string().optional().describe('Equation y = f(x) of a model without time.'),
  over: z
    .record(z.string(), z.array(written))
    .optional()
    .describe('Values at which a relation is read in one run.'),
});

const derivationLine = z.strictObject({
  line: z.string().describe('Equation that must be true along the ideal motion.'),
  because: words.optional().describe('Why the line holds, for the reader.'),
  within: written.optional().describe('Largest relative difference of an approximate line, such as 1 %.'),
});

const effect = z.strictObject({
  is: words.optional().describe('What the effect is, a sentence.'),
  off: z.record(z.string(), written).describe('Values that switch the effect off.'),
});

const instrument = z.looseObject({ kind: z.string(), of: written.optional() });

const step = z.record(z.string(), z.looseObject({}));

const result = z.strictObject({
  is: words.optional().describe('What the number is.'),
  unit: z.string().describe('Unit in which the result is given.'),
  theory: written.optional().describe('What the derivation predicts: an expression of quantities.'),
});

const asRead = z.strictObject({
  delimiter: z.string().optional().describe('What stands between two cells: a comma, a semicolon, a tab.'),
  'decimal mark': z.enum(['.', ',']).optional().describe('Decimal point or comma.'),
  encoding: z.string().optional().describe('Encoding of the text, such as utf-8, utf-16le, windows-1252.'),
  'header rows': z
    .int()
    .nonnegative()
    .optional()
    .describe('How many rows of headings stand above the readings.'),
  'first row': z.int().positive().optional().describe('Line of the file at which the readings begin.'),
  'last row': z.int().positive().optional().describe('Line of the file at which the readings end.'),
  units: z
    .record(z.string(), z.string())
    .optional()
    .describe('Units of columns whose heading names none, by heading.'),
});

const trial = z.strictObject({
  name: z.string().optional().describe('What the run is called in tables and messages.'),
  file: z.string().describe('File of raw readings, inside the lab folder.'),
  sheet: z.string().optional().describe('Sheet of a workbook.'),
  run: z.int().positive().optional().describe('Which run, where several stand side by side in the file.'),
  reads: z
    .record(z.string(), z.union([z.string(), z.record(z.string(), z.string())]))
    .describe('For each instrument the column it is read from, by its heading.'),
  when: z.record(z.string(), written).optional().describe('The settings under which the run was taken.'),
  counts: z
    .strictObject({
      from: written
        .optional()
        .describe('The first reading that counts: its time, such as 0.31 s, or its number from 1.'),
      to: written.optional().describe('The last reading that counts: its time, or its number.'),
    })
    .optional()
    .describe(
      'The part of the run that counts; readings outside are set aside. Everything counts where left out.',
    ),
  'set aside': words.optional().describe('Why this run is not used.'),
  'as read': asRead.optional().describe('Overrules what the reader took the file for.'),
  note: words.optional().describe('A remark for colleagues.'),
});

const correlation = z.strictObject({
  between: z.array(z.string()).length(2).describe('Two given quantities.'),
  is: z.number().gt(-1).lt(1).describe('Their correlation coefficient.'),
});

const table = z.strictObject({
  is: words.optional().describe('What the table holds.'),
  x: z.strictObject({ unit: z.string() }).describe('The unit of the first number of each point.'),
  y: z.strictObject({ unit: z.string() }).describe('The unit of the second number of each point.'),
  points: z.array(z.array(z.number()).length(2)).min(2).describe('Pairs of numbers, x rising.'),
  from: words.optional().describe('Where the points are from.'),
});

const reduction = z.strictObject({
  'each run': z.array(step).optional().describe('Steps from the readings of one run to its numbers.'),
  'across runs': z.array(step).optional().describe('Steps on the table of all runs.'),
});

const plan = z.strictObject({
  settings: z
    .record(z.string(), z.array(written).min(1))
    .optional()
    .describe('Values of quantities to be tried; every combination is one setting.'),
  repeats: z.int().positive().optional().describe('How many runs are taken under each setting.'),
});

/** A value, alone or with an uncertainty of its own. */
const statedValue = z.union([
  z.string(),
  z.number(),
  z.strictObject({
    value: written.describe('Value with its unit.'),
    ...estimateOfUncertainty,
    from: words.optional().describe('Where the value is from.'),
  }),
]);

const rivalModel = z.strictObject({
  is: words.optional().describe('What the model says, in a few words.'),
  set: z
    .record(z.string(), statedValue)
    .optional()
    .describe(
      'Values of quantities in this model: a value alone holds exactly, one with an uncertainty is free within it. All others stay as the lab states them.',
    ),
});

const inferPlan = z.strictObject({
  free: z.array(z.string()).optional().describe('Quantities that the trials may correct.'),
  using: z.array(z.string()).optional().describe('Numbers of each run that the model is fitted to.'),
  models: z
    .record(z.string(), rivalModel)
    .optional()
    .describe('Models that are weighed against each other by their evidence, by name.'),
});

const settingsOfOne = z.looseObject({});

/** A list of steps in place of the lab's own, or settings to be changed by the name of their step. */
const stepChanges = z.union([z.array(step), z.record(z.string(), z.union([settingsOfOne, z.null()]))]);

const reductionChange = z.strictObject({
  'each run': stepChanges
    .optional()
    .describe("Steps in place of the lab's own (a list), or changed settings by step (a map)."),
  'across runs': stepChanges.optional().describe('The same for the steps across runs.'),
});

const kit = z.strictObject({
  is: words.optional().describe('What the kit is, in a few words.'),
  set: z
    .record(z.string(), statedValue)
    .optional()
    .describe('Values of quantities; with an uncertainty of its own, or with that of the lab.'),
  instruments: z
    .record(z.string(), settingsOfOne)
    .optional()
    .describe('Changed settings of instruments, or another kind of instrument in place of one.'),
  reduction: reductionChange
    .optional()
    .describe(
      'Changed steps: under "each run" or "across runs" a list in place of the lab\'s own, or a map of changed settings by the name of the step; a step set to null is left out.',
    ),
  with: z.array(z.string()).optional().describe('Other kits that it may be combined with.'),
});

const valuesOfStation = z.record(z.string(), written);

const drawn = z.strictObject({
  values: z
    .record(
      z.string(),
      z.union([
        z.array(written).min(1),
        z.strictObject({
          from: written.describe('Least value.'),
          to: written.describe('Greatest value.'),
          step: written.optional().describe('Values are whole steps above the least.'),
        }),
      ]),
    )
    .describe('For each quantity a list to draw from, or a range.'),
  groups: z.int().positive().max(200).optional().describe('How many stations are drawn; 8 where left out.'),
  seed: z.int().nonnegative().optional().describe('The same seed draws the same values; 1 where left out.'),
});

const pooled = z.strictObject({
  'across stations': z
    .array(step)
    .describe('Steps on the table of stations: the results of each and the values that it sets.'),
  results: z.record(z.string(), result).describe('The numbers that the class finds together.'),
  'same everywhere': z
    .array(z.string())
    .optional()
    .describe(
      'Quantities whose error all stations share; those that the theory of the pooled results reads, where left out.',
    ),
});

const stations = z
  .object({
    drawn: drawn.optional().describe('Stations whose values are drawn by a seed.'),
    pooled: pooled.optional().describe('What the stations find together.'),
  })
  .catchall(valuesOfStation);

const slip = z.strictObject({
  is: words.optional().describe('What goes wrong, in a few words.'),
  helps: words.optional().describe('The sentence that helps whoever made it.'),
  set: z
    .record(z.string(), written)
    .optional()
    .describe('Values that the class reckons with by mistake: a value, or an expression such as 2*R.'),
  apparatus: z
    .record(z.string(), written)
    .optional()
    .describe('Values that the apparatus has by mistake, while the class reckons with the right ones.'),
  instruments: z
    .record(z.string(), settingsOfOne)
    .optional()
    .describe('Settings of instruments that the class enters wrongly.'),
  readings: z
    .record(z.string(), z.union([z.string(), z.record(z.string(), z.string())]))
    .optional()
    .describe(
      'For each instrument what is written down in place of a raw column: an expression of the columns.',
    ),
  reduction: reductionChange
    .optional()
    .describe('Steps that the class takes differently, written as in a kit.'),
  reported: z
    .record(z.string(), written)
    .optional()
    .describe('What is reported in place of a result: an expression of the results.'),
});

/** The form of lab.yaml: which keys stand where and what kind of value they hold. Meaning is checked later. */
export const labForm = z.strictObject({
  benchwright: z.literal(1).describe('Version of the format.'),
  title: words.describe('Title of the lab.'),
  question: words.optional().describe('The question that the class answers.'),
  about: words.optional().describe('What happens, in a few sentences.'),
  language: z
    .string()
    .regex(/^[a-zA-Z]{2,3}(-[a-zA-Z0-9]{2,8})*$/, 'a language tag such as en or de-AT stands here')
    .optional()
    .describe(
      'Language of the words in this file and in text/, as a tag such as en or de; English where left out.',
    ),
  licence: words.optional().describe('Licence of text and data, such as CC-BY-4.0.'),
  level: z
    .array(z.enum(['steps', 'algebra', 'calculus']))
    .optional()
    .describe('The mathematics that documents may assume, one document a level.'),
  quantities: z.record(z.string(), quantity).describe('Every symbol with its value, uncertainty and source.'),
  correlations: z.array(correlation).optional().describe('Correlations between given quantities.'),
  tables: z.record(z.string(), table).optional().describe('Tables of points for interpolate(NAME, x).'),
  where: z.record(z.string(), written).optional().describe('Helper expressions that the model may use.'),
  effects: z
    .record(z.string(), effect)
    .optional()
    .describe('What the ideal theory leaves out, and what switches it off.'),
  model: model.optional().describe('What happens: how states change in time, or a relation without time.'),
  derivation: z
    .array(derivationLine)
    .optional()
    .describe('Lines from the law to the theory; each is checked.'),
  instruments: z.record(z.string(), instrument).optional().describe('What looks at the phenomenon, and how.'),
  reduction: reduction.optional().describe('The steps from readings to results.'),
  results: z.record(z.string(), result).optional().describe('The numbers that the lab compares.'),
  plan: plan.optional().describe('The runs that the lab asks for.'),
  infer: inferPlan.optional().describe('What the trials may correct.'),
  trials: z.array(trial).optional().describe('Real runs, each with its file and settings.'),
  kits: z.record(z.string(), kit).optional().describe('Alternative sets of equipment.'),
  stations: stations
    .optional()
    .describe('Values for each student group: a map of quantities to values by the name of the station.'),
  slips: z.record(z.string(), slip).optional().describe('Common mistakes, told as changes.'),
  cautions: z.array(words).optional().describe('What can hurt, and how it is kept from doing so.'),
  references: z.array(words).optional().describe('Published sources.'),
});

export type LabForm = z.infer<typeof labForm>;
export type QuantityForm = z.infer<typeof quantity>;
export type TrialForm = z.infer<typeof trial>;
export type KitForm = z.infer<typeof kit>;
export type StationsForm = z.infer<typeof stations>;
export type SlipForm = z.infer<typeof slip>;
export type ReductionChangeForm = z.infer<typeof reductionChange>;
export type ModelForm = z.infer<typeof model>;
