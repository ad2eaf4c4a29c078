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
    .strictObject({ U: written, k: z.number().positive() })
    .optional()
    .describe('Expanded uncertainty U with its coverage factor k.'),
  dof: z.number().positive().optional().describe('Degrees of freedom of the standard uncertainty u.'),
};

const quantity = z.strictObject({
  is: words.optional().describe('What the symbol stands for.'),
  value: written.optional().describe('Value with its unit, such as 1.2 m.'),
  ...estimateOfUncertainty,
  observed: z
    .array(written)
    .optional()
    .describe('Repeated readings with units: mean and standard error are taken.'),
  equals: written.optional().describe('Expression of other quantities that gives the value.'),
  unit: z.string().optional().describe('Unit in which a computed quantity is printed.'),
  at: z
    .strictObject({ latitude: written, height: written.optional() })
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
  relation: z.string().optional().describe('Equation y = f(x) of a model without time.'),
  over: z
    .record(z.string(), z.array(written))
    .optional()
    .describe('Values at which a relation is read in one run.'),
});

const derivationLine = z.strictObject({
  line: z.string().describe('Equation that must be true along the ideal motion.'),
  because: words.optional(),
  within: written.optional().describe('Largest relative difference of an approximate line, such as 1 %.'),
});

const effect = z.strictObject({
  is: words.optional(),
  off: z.record(z.string(), written).describe('Values that switch the effect off.'),
});

const instrument = z.looseObject({ kind: z.string(), of: written.optional() });

const step = z.record(z.string(), z.looseObject({}));

const result = z.strictObject({
  is: words.optional(),
  unit: z.string().describe('Unit in which the result is given.'),
  theory: written.optional().describe('What the derivation predicts: an expression of quantities.'),
});

const asRead = z.strictObject({
  delimiter: z.string().optional(),
  'decimal mark': z.enum(['.', ',']).optional(),
  encoding: z.string().optional(),
  'header rows': z.int().nonnegative().optional(),
  'first row': z.int().positive().optional(),
  units: z.record(z.string(), z.string()).optional(),
});

const trial = z.strictObject({
  name: z.string().optional(),
  file: z.string().describe('File of raw readings, inside the lab folder.'),
  sheet: z.string().optional(),
  run: z.int().positive().optional().describe('Which run, where several stand side by side in the file.'),
  reads: z
    .record(z.string(), z.union([z.string(), z.record(z.string(), z.string())]))
    .describe('For each instrument the column it is read from.'),
  when: z.record(z.string(), written).optional().describe('The settings under which the run was taken.'),
  'set aside': words.optional().describe('Why this run is not used.'),
  'as read': asRead.optional().describe('Overrules what the reader took the file for.'),
  note: words.optional(),
});

const free = z.record(z.string(), z.unknown());

/** The form of lab.yaml: which keys stand where and what kind of value they hold. Meaning is checked later. */
export const labForm = z.strictObject({
  benchwright: z.literal(1).describe('Version of the format.'),
  title: words,
  question: words.optional(),
  about: words.optional(),
  licence: words.optional(),
  level: z.array(z.enum(['steps', 'algebra', 'calculus'])).optional(),
  quantities: z.record(z.string(), quantity),
  correlations: z
    .array(z.strictObject({ between: z.array(z.string()).length(2), is: z.number().gt(-1).lt(1) }))
    .optional(),
  tables: z
    .record(
      z.string(),
      z.strictObject({
        is: words.optional(),
        x: z.strictObject({ unit: z.string() }),
        y: z.strictObject({ unit: z.string() }),
        points: z.array(z.array(z.number()).length(2)).min(2),
        from: words.optional(),
      }),
    )
    .optional(),
  where: z.record(z.string(), written).optional().describe('Helper expressions that the model may use.'),
  effects: z.record(z.string(), effect).optional(),
  model: model.optional(),
  derivation: z.array(derivationLine).optional(),
  instruments: z.record(z.string(), instrument).optional(),
  reduction: z
    .strictObject({ 'each run': z.array(step).optional(), 'across runs': z.array(step).optional() })
    .optional(),
  results: z.record(z.string(), result).optional(),
  plan: z
    .strictObject({
      settings: z.record(z.string(), z.array(written).min(1)).optional(),
      repeats: z.int().positive().optional(),
    })
    .optional(),
  infer: z
    .strictObject({ free: z.array(z.string()).optional(), using: z.array(z.string()).optional() })
    .optional(),
  trials: z.array(trial).optional(),
  kits: free.optional(),
  stations: free.optional(),
  slips: free.optional(),
  cautions: z.array(words).optional(),
  references: z.array(words).optional(),
});

export type LabForm = z.infer<typeof labForm>;
export type QuantityForm = z.infer<typeof quantity>;
export type TrialForm = z.infer<typeof trial>;
export type ModelForm = z.infer<typeof model>;
