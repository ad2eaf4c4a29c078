import * as z from 'zod';
import { listStations } from '../../classroom/index.ts';
import type { Lab, LabDocument, Setting, WrittenStep } from '../../lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import type { Level } from '../document/index.ts';

/** Something of the lab file that is a name, a few words, and values of quantities. */
export interface NamedSettings {
  readonly name: string;
  readonly is: string;
  readonly set: readonly Setting[];
}

/** What documents need of a lab file besides what every run of it needs. */
export interface LabExtras {
  readonly about: string;
  /** Of the lab's own words: 'en', 'de'. */
  readonly language: string;
  readonly licence: string;
  readonly levels: readonly Level[];
  readonly kits: readonly NamedSettings[];
  readonly stations: readonly NamedSettings[];
  readonly eachRun: readonly WrittenStep[];
  readonly acrossRuns: readonly WrittenStep[];
  /** How each state of the model starts, as written. */
  readonly start: Readonly<Record<string, string>>;
  /** Settings of each instrument as written, by its name. */
  readonly instruments: ReadonlyMap<string, Readonly<Record<string, unknown>>>;
  /** Sources that the lab file itself lists, in words. */
  readonly references: readonly string[];
}

const written = z.union([z.string(), z.number()]);

const extrasForm = z.looseObject({
  about: z.string().optional(),
  language: z.string().optional(),
  licence: z.string().optional(),
  level: z.array(z.enum(['steps', 'algebra', 'calculus'])).optional(),
  model: z.looseObject({ start: z.record(z.string(), written).optional() }).optional(),
  references: z.array(z.string()).optional(),
});

/** Language of a lab file that names none. */
const USUAL_LANGUAGE = 'en';

/** Licence of texts and data where the lab names none: that of the labs of the package. */
const USUAL_LICENCE = 'CC-BY-4.0';

/**
 * Reads what documents need of a lab file besides the lab itself.
 *
 * @param document the text that `lab` was read from
 * @returns the parts, or every one that is not of its form
 */
export function readLabExtras(lab: Lab, document: LabDocument): Outcome<LabExtras> {
  const form = extrasForm.safeParse(document.data);
  if (!form.success) {
    return fail(
      ...form.error.issues.map((issue) => {
        const path = issue.path.filter((part): part is string | number => typeof part !== 'symbol');
        const message = `${path.join(' → ')} cannot be read for documents: ${issue.message}.`;
        return problem('wrong-form', document.placeOf(path), message);
      }),
    );
  }
  const { data } = form;
  return succeed({
    about: (data.about ?? '').trim(),
    language: data.language ?? USUAL_LANGUAGE,
    licence: data.licence ?? USUAL_LICENCE,
    levels: data.level ?? ['algebra'],
    kits: lab.kits,
    stations: listStations(lab).map(({ name, set }) => ({ name, is: '', set })),
    eachRun: lab.written.eachRun,
    acrossRuns: lab.written.acrossRuns,
    start: Object.fromEntries(
      Object.entries(data.model?.start ?? {}).map(([name, value]) => [name, String(value)]),
    ),
    instruments: lab.written.instruments,
    references: data.references ?? [],
  });
}
