import * as z from 'zod';

/** The documents of `--json` as docs/json.md describes them: a key more, a key less or another kind fails. */

const number = z.number().nullable();
const place = {
  file: z.string().nullable(),
  line: z.int().nullable(),
  column: z.int().nullable(),
  step: z.string().nullable(),
};

const problem = z.strictObject({
  code: z.string().regex(/^[a-z0-9-]+$/),
  severity: z.enum(['error', 'warning']),
  ...place,
  message: z.string().min(1),
  try_this: z.string().nullable(),
});

export const problemsForm = z.strictObject({ problems: z.array(problem).min(1) });

const lab = z.strictObject({ title: z.string(), question: z.string(), file: z.string(), folder: z.string() });
const notes = z.array(problem);
const interval = z.strictObject({ level: z.number(), low: number, high: number });

const settings = z.record(z.string(), z.strictObject({ value: number, unit: z.string(), si: number }));
const digests = z.record(z.string(), z.string().regex(/^[0-9a-f]{64}$/));
const label = z.string().nullable();

export const checkForm = z.strictObject({
  lab,
  quantities: z.record(
    z.string(),
    z.strictObject({
      is: z.string(),
      value: number,
      u: number,
      unit: z.string(),
      from: z.string(),
      si: number,
    }),
  ),
  computed: z.array(z.string()),
  effects: z.array(z.string()),
  model: z.enum(['motion', 'relation', 'none']),
  model_runs: z.boolean(),
  instruments: z.record(z.string(), z.string()),
  steps: z.strictObject({ each_run: z.array(z.string()), across_runs: z.array(z.string()) }),
  results: z.array(z.string()),
  derivation: z
    .array(
      z.strictObject({
        line: z.string(),
        because: z.string(),
        within: z.number(),
        true: z.boolean(),
        left: number,
        right: number,
        ratio: number,
        at: number,
      }),
    )
    .nullable(),
  trials: z
    .array(
      z.strictObject({
        name: z.string(),
        file: z.string(),
        run: z.int().nullable(),
        set_aside: z.string().nullable(),
        sha256: z.string(),
        read_as: z.array(z.string()).min(1),
        rows: z.int(),
        rows_outside: z.int(),
        rows_kept: z.int().nullable(),
      }),
    )
    .nullable(),
  problems: z.array(problem),
  notes,
});

const predicted = z.strictObject({ value: number, unit: z.string(), u: number, si: number });

export const predictForm = z.strictObject({
  lab,
  effects_off: z.array(z.string()),
  set: settings,
  results: z.record(z.string(), predicted),
  theory: z.record(z.string(), predicted),
  holds: z.record(
    z.string(),
    z.strictObject({ fails_at: z.object({ t: number }).catchall(number).nullable() }),
  ),
  ended: z.strictObject({ by: z.string(), t: number }).nullable(),
  notes,
});

export const stepsForm = z.strictObject({
  lab,
  set: settings,
  uncertainty_from: z.enum(['measured', 'rehearsed', 'nothing']),
  results: z.record(
    z.string(),
    z.strictObject({
      unit: z.string(),
      exact: number,
      u: number,
      steppers: z.array(
        z.strictObject({
          stepper: z.enum(['forward-euler', 'semi-implicit-euler', 'midpoint', 'fourth-order']),
          largest_good_step_s: number,
          steps: z.array(
            z.strictObject({ step_s: z.number(), value: number, error: number, problem: problem.nullable() }),
          ),
        }),
      ),
    }),
  ),
  notes,
});

export const rehearseForm = z.strictObject({
  lab,
  seed: z.int(),
  any_apparatus: z.boolean(),
  set: settings,
  rehearsals: z.int(),
  failed: z.int(),
  runs_per_setting: z.int(),
  results: z.array(
    z.strictObject({
      name: z.string(),
      setting: label,
      unit: z.string(),
      mean: number,
      spread: number,
      low: number,
      high: number,
      single_run_spread: number,
      single_run_u: number,
      mean_si: number,
      spread_si: number,
    }),
  ),
  written: z.strictObject({ folder: z.string(), files: z.array(z.string()) }).nullable(),
  notes,
});

const fit = z.strictObject({
  fit: z.string(),
  run: z.string(),
  x: z.string(),
  y: z.string(),
  n: z.int(),
  parameters: z.array(z.strictObject({ name: z.string(), value: number, u: number, unit: z.string() })),
  covariance: z.array(z.array(number)),
  degrees_of_freedom: number,
  reduced_chi_square: number,
  uncertainty_from: z.enum(['scatter', 'stated']),
  residuals: z.array(number),
});

export const reduceForm = z.strictObject({
  lab,
  results: z.array(
    z.strictObject({
      name: z.string(),
      setting: label,
      value: number,
      unit: z.string(),
      n: z.int(),
      scatter: number,
      si: number,
    }),
  ),
  runs: z.array(
    z.strictObject({
      name: z.string(),
      file: z.string(),
      run: z.int().nullable(),
      when: settings,
      rows: z.int(),
      outside: z.array(
        z.strictObject({ instrument: z.string(), before: z.int(), behind: z.int(), of: z.int() }),
      ),
      scalars: z.record(
        z.string(),
        z.strictObject({
          value: number,
          u: number,
          unit: z.string(),
          degrees_of_freedom: number,
          si: number,
        }),
      ),
      fits: z.array(fit),
    }),
  ),
  across_fits: z.array(fit),
  set_aside: z.array(z.strictObject({ name: z.string(), reason: z.string() })),
  problems: z.array(problem),
  digests,
  notes,
});

const ledger = z.strictObject({
  is: z.string(),
  unit: z.string(),
  theory: number,
  theory_u: number,
  theory_si: number,
  ideal: z.number(),
  ideal_u: number,
  ideal_si: number,
  reduction: z.array(z.strictObject({ step: z.string(), shift: number })),
  effects: z.array(
    z.strictObject({
      name: z.string(),
      share: z.number(),
      u: number,
      share_si: number,
      u_orders: number.optional(),
    }),
  ),
  full: z.number(),
  full_u: number,
  full_si: number,
  measured: z
    .strictObject({
      value: z.number(),
      u: z.number(),
      unit: z.string(),
      n: z.int().positive(),
      u_scatter: number,
      u_quantities: number,
      interval: interval.nullable(),
      si: number,
    })
    .nullable(),
  remainder: z
    .strictObject({
      value: z.number(),
      u: number,
      z: number,
      verdict: z.enum(['explained', 'doubtful', 'unexplained', 'unknown']),
      verdict_text: z.string(),
      probability: number,
      degrees_of_freedom: number,
      closing: z.array(
        z.strictObject({
          quantity: z.string(),
          is: z.string(),
          now: number,
          needed: number,
          unit: z.string(),
          in_uncertainties: number,
          plausible: z.boolean(),
        }),
      ),
      si: number,
    })
    .nullable(),
});

export const reconcileForm = z.strictObject({
  lab,
  results: z.record(z.string(), ledger),
  settings: z.array(
    z.strictObject({ label: z.string(), when: settings, results: z.record(z.string(), ledger) }),
  ),
  across_runs: z.record(z.string(), ledger),
  method: z.strictObject({
    kind: z.enum(['second-order response', 'draws of the model']),
    draws: z.int(),
    failed: z.int(),
    checked: z.int(),
    worst_disagreement: number,
    because: z.string(),
    orders: z.union([z.literal('all'), z.int()]),
  }),
  digests,
  notes,
});

const inferred = z.strictObject({ value: number, u: number, si: number });

const inferredQuantity = z.strictObject({
  quantity: z.string(),
  is: z.string(),
  unit: z.string(),
  prior: inferred,
  posterior: inferred.extend({ interval }),
  shift_in_prior_u: number,
});

export const inferForm = z.strictObject({
  lab,
  free: z.array(inferredQuantity),
  covariance_si: z.array(z.array(number)),
  correlations: z.array(z.array(number)),
  indistinguishable: z.array(z.strictObject({ between: z.array(z.string()).length(2), correlation: number })),
  uninformed: z.array(z.string()),
  alongside: z.array(z.string()),
  fit: z.strictObject({ chi_square: number, degrees_of_freedom: number }),
  data: z.array(
    z.strictObject({
      name: z.string(),
      setting: z.string(),
      unit: z.string(),
      measured: number,
      u: number,
      before: number,
      after: number,
    }),
  ),
  models: z.array(
    z.strictObject({
      model: z.string(),
      is: z.string(),
      weight: number,
      log_evidence: number,
      chi_square: number,
      free: z.array(inferredQuantity),
    }),
  ),
  digests,
  notes,
});

export const newForm = z.strictObject({
  name: z.string(),
  folder: z.string(),
  from: z.string(),
  files: z.array(z.string()).min(1),
  notes,
});

export const quantitiesForm = z.strictObject({
  lab,
  method: z.strictObject({
    kind: z.enum(['linear', 'draws']),
    source: z.string(),
    draws: z.int().optional(),
    stable: z.boolean().optional(),
  }),
  quantities: z.record(
    z.string(),
    z.strictObject({
      value: number,
      unit: z.string(),
      u: number,
      dof: number,
      interval,
      shortest: interval.optional(),
      numerical_u: number.optional(),
      numerical: z.strictObject({ value: number, u: number, low: number, high: number }).optional(),
      left_domain: z.int().optional(),
      budget: z.array(z.strictObject({ from: z.string(), share: number, u: number })),
      is: z.string(),
      from: z.string(),
      kind: z.enum(['given', 'computed']),
      si: z.strictObject({ value: number, u: number }),
    }),
  ),
  notes,
});

export const fitForm = z.strictObject({
  file: z.string(),
  kind: z.string(),
  parameters: z.record(z.string(), z.strictObject({ value: number, u: number })),
  order: z.array(z.string()),
  covariance: z.array(z.array(number)),
  residual: z.strictObject({ sum_of_squares: number, sd: number, dof: number }),
  reduced_chi_square: number,
  uncertainty_from: z.enum(['scatter', 'stated']),
  readings: z.int(),
  rows_left_out: z.int(),
  columns: z.record(z.string(), z.string()),
  residuals: z.array(number),
  digests,
  notes,
});

const firstFailure = problem.nullable();
const measure = { measure: z.string(), unit: z.string(), scale: z.enum(['absolute', 'relative']) };
const variedForm = { quantity: z.string(), unit: z.string(), kind: z.enum(['range', 'list']) };
const band = { mean: number, spread: number, low: number, high: number };

export const adaptForm = z.strictObject({
  lab,
  kits: z.array(z.string()),
  set: settings,
  seed: z.int(),
  rehearsals: z.int(),
  equipment: z
    .array(
      z.strictObject({
        kits: z.array(z.string()),
        verdict: z.enum(['works well', 'works with care', 'will disappoint']),
        reasons: z.array(z.looseObject({ kind: z.string() })),
        judged_by: z.string().nullable(),
        results: z.array(
          z.strictObject({
            name: z.string(),
            unit: z.string(),
            theory: number,
            ideal: number,
            full: number,
            gap: number,
            relative_gap: number,
            effects: z.record(z.string(), number),
            ...band,
          }),
        ),
        readings: number,
        ended: z.strictObject({ by: z.string(), t: z.number() }).nullable(),
        model_fails: z
          .strictObject({ condition: z.string(), t: z.number(), state: z.record(z.string(), z.number()) })
          .nullable(),
        hazards: z.array(z.strictObject({ kind: z.string(), si: number })),
        rehearsals: z.int(),
        failed: z.int(),
        problems: z.array(problem),
      }),
    )
    .nullable(),
  map: z
    .strictObject({
      varied: z.array(z.strictObject({ ...variedForm, values: z.array(number) })),
      measures: z.array(z.strictObject({ ...measure, values: z.array(number) })),
      failed: z.int(),
      first_failure: firstFailure,
    })
    .nullable(),
  thresholds: z
    .array(
      z.strictObject({
        with: settings,
        condition: z.string(),
        ...measure,
        varied: z.strictObject(variedForm),
        met: z.array(
          z.strictObject({
            from: number,
            to: number,
            begins: z.boolean(),
            ceases: z.boolean(),
            from_si: number,
            to_si: number,
          }),
        ),
        looked: z.array(z.strictObject({ at: number, value: number })),
        failed: z.int(),
        first_failure: firstFailure,
      }),
    )
    .nullable(),
  optimum: z
    .strictObject({
      ...measure,
      sense: z.enum(['largest', 'least']),
      value: number,
      si: number,
      settings,
      conditions: z.array(z.strictObject({ condition: z.string(), unit: z.string(), to_spare: number })),
      at_end: z.array(z.string()),
      next_best: z.array(z.strictObject({ settings, value: number })),
      method: z.strictObject({
        combinations: z.int(),
        grid: z.int(),
        refined: z.int(),
        evaluations: z.int(),
        allowed: z.int(),
        failed: z.int(),
        first_failure: firstFailure,
      }),
    })
    .nullable(),
  notes,
});

export const stationsForm = z.strictObject({
  lab,
  seed: z.int(),
  effects: z.enum(['all effects', 'no effects']),
  rehearsals: z.int(),
  stations: z.array(
    z.strictObject({
      name: z.string(),
      set: settings,
      failed: z.int(),
      results: z.array(z.strictObject({ name: z.string(), unit: z.string(), theory: number, ...band })),
    }),
  ),
  pooled: z.array(
    z.strictObject({
      groups: z.int(),
      name: z.string(),
      unit: z.string(),
      theory: number,
      ...band,
      stated_u: number,
      coverage: number,
    }),
  ),
  needed: z.strictObject({ condition: z.string(), groups: z.int().nullable() }).nullable(),
  notes,
});

const marked = z.strictObject({
  reported: z.array(
    z.strictObject({
      result: z.string(),
      unit: z.string(),
      value: number,
      u: number,
      low: number,
      high: number,
      within: z.boolean(),
      from_data: number,
    }),
  ),
  causes: z.array(
    z.strictObject({
      kind: z.enum(['correct', 'slip', 'pair', 'effect', 'unknown']),
      name: z.string(),
      slips: z.array(z.string()),
      effect: z.string().nullable(),
      times: number,
      share: number,
      gives: z.array(number),
      says: z.string(),
    }),
  ),
});

export const markForm = z.strictObject({
  lab,
  station: z.string(),
  set: settings,
  kits: z.array(z.string()),
  seed: z.int(),
  report: marked.nullable(),
  list: z
    .array(
      z.strictObject({
        line: z.int(),
        group: z.string(),
        station: z.string(),
        report: marked.nullable(),
        problems: z.array(problem),
      }),
    )
    .nullable(),
  written: z.string().nullable(),
  notes,
  problems: z.array(problem),
});

export const lessonForm = z.strictObject({
  lab,
  address: z.url(),
  port: z.int(),
  teacher_address: z.url(),
  teacher_port: z.int(),
  code: z.string().regex(/^[A-Z2-9]{6}$/),
  entries: z.string(),
  stations: z.array(z.string()),
  notes,
});
