import * as z from 'zod';
import { type Lab, type LabDocument, type Path, readSetting, type Setting } from '../../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../../problem/index.ts';
import type { Level } from '../document/index.ts';

/** Something of the lab file that is a name, a few words, and values of quantities. */
export interface NamedSettings {
  readonly name: string;
  readonly is: string;
  readonly set: readonly Setting[];
}

/** One step of the reduction as the lab file has it. */
export interface WrittenStep {
  readonly name: string;
  readonly settings: Readonly<Record<string, unknown>>;
}

/** What documents need of a lab file besides what every run of it needs. */
export interface LabExtras {
  readonly about: string;
  readonly licence: string;
  readonly levels: readonly Level[];
  readonly kits: readonly NamedSettings[];
  readonly stations: readonly NamedSettings[];
  readonly slips: readonly NamedSettings[];
  readonly eachRun: readonly WrittenStep[];
  readonly acrossRuns: readonly WrittenStep[];
  /** How each state of the model starts, as written. */
  readonly start: Readonly<Record<string, string>>;
  /** Settings of each instrument as written, by its name. */
  readonly instruments: ReadonlyMap<string, Readonly<Record<string, unknown>>>;
  /** Sources that the lab file itself lists, in words. */
  readonly references: readonly string[];
}

const anyRecord = z.record(z.string(), z.unknown());
const written = z.union([z.string(), z.number()]);
const named = z.looseObject({ is: z.string().optional(), set: z.record(z.string(), written).optional() });
const steps = z.array(z.record(z.string(), anyRecord)).optional();

const extrasForm = z.looseObject({
  about: z.string().optional(),
  licence: z.string().optional(),
  level: z.array(z.enum(['steps', 'algebra', 'calculus'])).optional(),
  kits: anyRecord.optional(),
  stations: anyRecord.optional(),
  slips: anyRecord.optional(),
  reduction: z.looseObject({ 'each run': steps, 'across runs': steps }).optional(),
  instruments: z.record(z.string(), anyRecord).optional(),
  model: z.looseObject({ start: z.record(z.string(), written).optional() }).optional(),
  references: z.array(z.string()).optional(),
});

/** Licence of texts and data where the lab names none: that of the labs of the package. */
const USUAL_LICENCE = 'CC-BY-4.0';

/**
 * Reads what documents need of a lab file besides the lab itself.
 *
 * @param document the text that `lab` was read from
 * @returns the parts, or every value in `set:` or a station that does not fit its quantity
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
  const kits = readNamed('kits', data.kits, lab, document);
  const slips = readNamed('slips', data.slips, lab, document);
  const stations = readStations(data.stations, lab, document);
  if (!kits.ok || !slips.ok || !stations.ok)
    return fail(...[kits, slips, stations].flatMap((part) => (part.ok ? [] : part.problems)));
  return succeed({
    about: (data.about ?? '').trim(),
    licence: data.licence ?? USUAL_LICENCE,
    levels: data.level ?? ['algebra'],
    kits: kits.value,
    stations: stations.value,
    slips: slips.value,
    eachRun: stepsOf(data.reduction?.['each run']),
    acrossRuns: stepsOf(data.reduction?.['across runs']),
    start: Object.fromEntries(
      Object.entries(data.model?.start ?? {}).map(([name, value]) => [name, String(value)]),
    ),
    instruments: new Map(Object.entries(data.instruments ?? {})),
    references: data.references ?? [],
  });
}

function stepsOf(forms: z.infer<typeof steps>): readonly WrittenStep[] {
  return (forms ?? []).flatMap((form) =>
    Object.entries(form).map(([name, settings]) => ({ name, settings })),
  );
}

/** Entries of the form NAME: { is: words, set: { quantity: value } }. */
function readNamed(
  key: 'kits' | 'slips',
  forms: Readonly<Record<string, unknown>> | undefined,
  lab: Lab,
  document: LabDocument,
): Outcome<readonly NamedSettings[]> {
  const problems: Problem[] = [];
  const entries = Object.entries(forms ?? {}).flatMap(([name, form]): NamedSettings[] => {
    const read = named.safeParse(form);
    if (!read.success) {
      const place = document.placeOf([key, name]);
      const message = `"${name}" in "${key}" is not of the form { is: words, set: { quantity: value } }.`;
      problems.push(problem('wrong-form', place, message));
      return [];
    }
    const set = readValues(read.data.set ?? {}, [key, name, 'set'], lab, document);
    if (!set.ok) problems.push(...set.problems);
    return set.ok ? [{ name, is: read.data.is ?? '', set: set.value }] : [];
  });
  return problems.length > 0 ? fail(...problems) : succeed(entries);
}

/** Entries of the form NAME: { quantity: value }. */
function readStations(
  forms: Readonly<Record<string, unknown>> | undefined,
  lab: Lab,
  document: LabDocument,
): Outcome<readonly NamedSettings[]> {
  const problems: Problem[] = [];
  const stations = Object.entries(forms ?? {}).flatMap(([name, form]): NamedSettings[] => {
    const read = z.record(z.string(), written).safeParse(form);
    if (!read.success) {
      const message = `The station "${name}" is not of the form { quantity: value }.`;
      problems.push(problem('wrong-form', document.placeOf(['stations', name]), message));
      return [];
    }
    const set = readValues(read.data, ['stations', name], lab, document);
    if (!set.ok) problems.push(...set.problems);
    return set.ok ? [{ name, is: '', set: set.value }] : [];
  });
  return problems.length > 0 ? fail(...problems) : succeed(stations);
}

function readValues(
  form: Readonly<Record<string, string | number>>,
  path: Path,
  lab: Lab,
  document: LabDocument,
): Outcome<readonly Setting[]> {
  const problems: Problem[] = [];
  const settings = Object.entries(form).flatMap(([name, value]): Setting[] => {
    const at = [...path, name];
    const key = path.join(' → ');
    const setting = readSetting(
      name,
      String(value),
      lab.quantities,
      document.placeOfKey(at),
      document.originOf(at),
      key,
    );
    if (!setting.ok) problems.push(...setting.problems);
    return setting.ok ? [setting.value] : [];
  });
  return problems.length > 0 ? fail(...problems) : succeed(settings);
}
