import { nearestName, type Outcome, type Place, type Problem, problem } from '../problem/index.ts';
import type { GivenSettings } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

export type SettingPath = readonly (string | number)[];

/**
 * The settings of one step as they are written, and a list of what is wrong with them.
 *
 * Each reading method gives null where the setting is absent or of the wrong form.
 */
export class SettingsForm {
  readonly problems: Problem[] = [];
  protected readonly step: string;
  protected readonly given: GivenSettings;

  /** Tells at once which keys are not known, and which required ones are missing. */
  constructor(step: string, specs: readonly StepSettingSpec[], given: GivenSettings) {
    this.step = step;
    this.given = given;
    const known = specs.map((spec) => spec.name);
    for (const key of Object.keys(given.values)) {
      if (known.includes(key)) continue;
      const near = nearestName(key, known);
      this.problems.push(
        problem(
          'unknown-key',
          given.placeOfKey([key]),
          `"${key}" is not a setting of "${step}".`,
          near === undefined ? `Its settings are ${known.join(', ')}.` : `Did you mean "${near}"?`,
        ),
      );
    }
    for (const spec of specs) {
      if (spec.required && !this.has(spec.name)) {
        const what = `"${step}" needs "${spec.name}": ${spec.what}`;
        this.problems.push(problem('missing-key', given.placeOfKey([]), what));
      }
    }
  }

  has(name: string): boolean {
    return this.given.values[name] !== undefined && this.given.values[name] !== null;
  }

  placeOf(name: string): Place {
    return this.has(name) ? this.given.placeOf([name]) : this.given.placeOfKey([]);
  }

  tell(code: string, name: string, message: string, tryThis?: string): null {
    this.problems.push(problem(code, this.placeOf(name), message, tryThis));
    return null;
  }

  count(name: string, least: number): number | null {
    if (!this.has(name)) return null;
    const written = this.given.values[name];
    if (typeof written === 'number' && Number.isInteger(written) && written >= least) return written;
    return this.tell(
      'wrong-form',
      name,
      `"${name}" is ${JSON.stringify(written)}; it must be a whole number, at least ${least}.`,
    );
  }

  choice(name: string, options: readonly string[]): string | null {
    if (!this.has(name)) return null;
    const written = this.given.values[name];
    if (typeof written === 'string' && options.includes(written)) return written;
    return this.tell(
      'wrong-form',
      name,
      `"${name}" is ${JSON.stringify(written)}; it must be ${options.join(' or ')}.`,
    );
  }

  /** The keys of a mapping setting. */
  keysOf(name: string): readonly string[] | null {
    if (!this.has(name)) return null;
    const written = this.given.values[name];
    if (typeof written === 'object' && written !== null && !Array.isArray(written))
      return Object.keys(written);
    return this.tell('wrong-form', name, `"${name}" must be names with a value each, such as { A: 1 V }.`);
  }

  wordAt(path: SettingPath): string | null {
    const written = this.at(path);
    if (typeof written === 'string') return written;
    const found = JSON.stringify(written) ?? 'nothing';
    this.problems.push(
      problem('wrong-form', this.given.placeOf(path), `a name must stand here; found ${found}.`),
    );
    return null;
  }

  protected words(name: string): string | null {
    if (!this.has(name)) return null;
    const written = this.given.values[name];
    if (typeof written === 'string') return written;
    return this.tell('wrong-form', name, `"${name}" is ${JSON.stringify(written)}; a name must stand there.`);
  }

  protected at(path: SettingPath): unknown {
    let found: unknown = this.given.values;
    for (const key of path) {
      if (typeof found !== 'object' || found === null) return undefined;
      found = Reflect.get(found, key);
    }
    return found;
  }

  take<T>(outcome: Outcome<T>): T | null {
    if (outcome.ok) return outcome.value;
    this.problems.push(...outcome.problems);
    return null;
  }
}
