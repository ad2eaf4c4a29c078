import { type Command, InvalidArgumentError } from 'commander';
import type { Kit, Lab, Setting } from '../lab/index.ts';
import { readSetting } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import { parseMagnitude } from '../quantity/index.ts';

/** Adds the positional argument that every verb but `new` has. */
export function takeLab(command: Command): void {
  command.argument('[LAB]', 'folder of the lab, its lab.yaml, or the name of a lab that comes along', '.');
}

export function takeSettings(command: Command): void {
  command.option(
    '--set <SYMBOL=VALUE>',
    'another value for a quantity, with its unit: L=1.4m (repeatable)',
    gather,
    [],
  );
}

export function takeSeed(command: Command): void {
  command.option(
    '--seed <S>',
    'seed of the random numbers: the same seed, the same numbers',
    wholeNumber('--seed', 0, 2 ** 31 - 1),
    1,
  );
}

export function takeKits(command: Command): void {
  command.option(
    '--kit <KIT>',
    'with this kit of the lab (repeatable, where the lab allows them together)',
    gather,
    [],
  );
}

/** Collects a repeatable option. */
export function gather(value: string, before: unknown): readonly string[] {
  return [...(Array.isArray(before) ? before.map(String) : []), value];
}

/** A parser of a whole number between limits, which says what is wrong in a sentence. */
export function wholeNumber(option: string, least: number, most: number): (value: string) => number {
  return (value) => {
    const number = /^\d{1,15}$/.test(value.trim()) ? Number(value) : Number.NaN;
    if (number >= least && number <= most) return number;
    throw new InvalidArgumentError(`${option} takes a whole number from ${least} to ${most}.`);
  };
}

/** Reads `--set L=1.4m` options; each problem names the option. */
export function readSettings(lab: Lab, written: readonly string[]): Outcome<readonly Setting[]> {
  const problems: Problem[] = [];
  const settings: Setting[] = [];
  for (const text of written) {
    const place = { step: `--set ${text}` };
    const at = text.indexOf('=');
    if (at < 1) {
      problems.push(
        problem(
          'usage',
          place,
          'A setting is a symbol, "=", and a value with its unit.',
          'For example: --set L=1.4m',
        ),
      );
      continue;
    }
    const setting = readSetting(
      text.slice(0, at).trim(),
      text.slice(at + 1).trim(),
      lab.quantities,
      place,
      { placeAt: () => place },
      '--set',
    );
    if (setting.ok) settings.push(setting.value);
    else problems.push(...setting.problems.map((found) => ({ ...found, code: 'usage' })));
  }
  return problems.length > 0 ? fail(...problems) : succeed(settings);
}

/** The subset of effects that is on once the named ones are off. */
export function subsetWithout(lab: Lab, names: readonly string[]): Outcome<number> {
  const problems: Problem[] = [];
  let subset = 2 ** lab.effects.length - 1;
  for (const name of names) {
    const index = lab.effects.findIndex((effect) => effect.name === name);
    if (index < 0) {
      const known = lab.effects.map((effect) => effect.name);
      const near = nearestName(name, known);
      const list = known.map((effect) => `"${effect}"`).join(', ');
      const advice =
        near !== undefined
          ? `Did you mean "${near}"?`
          : `The effects are ${list === '' ? 'none yet' : list}.`;
      problems.push(
        problem('usage', { step: `--without "${name}"` }, `"${name}" is not an effect of this lab.`, advice),
      );
    } else {
      subset &= ~(1 << index);
    }
  }
  return problems.length > 0 ? fail(...problems) : succeed(subset);
}

/** Reads `--step 10ms,5ms`: times in seconds, the largest first. */
export function readSteps(written: string): Outcome<readonly number[]> {
  const problems: Problem[] = [];
  const steps: number[] = [];
  for (const text of written.split(',').map((part) => part.trim())) {
    const place = { step: `--step ${written}` };
    const read = parseMagnitude(text, 'interval', { placeAt: () => place });
    if (!read.ok) {
      problems.push(...read.problems.map((found) => ({ ...found, code: 'usage' })));
      continue;
    }
    const { value, unit } = read.value;
    const isTime = unit.dimension.every((exponent, base) => exponent === (base === 2 ? 1 : 0));
    if (isTime && value > 0 && Number.isFinite(value)) steps.push(value);
    else
      problems.push(
        problem('usage', place, `"${text}" is not a time above 0.`, 'For example: --step 10ms,5ms'),
      );
  }
  return problems.length > 0 ? fail(...problems) : succeed(steps.sort((a, b) => b - a));
}

/** Finds kits by their names, which must be allowed together. */
export function findKits(lab: Lab, names: readonly string[]): Outcome<readonly Kit[]> {
  const found = readAll(names, (name) => {
    const kit = lab.kits.find((candidate) => candidate.name === name);
    if (kit !== undefined) return succeed(kit);
    const known = lab.kits.map((candidate) => candidate.name);
    const near = nearestName(name, known);
    const advice =
      near === undefined
        ? `The kits are ${known.map((own) => `"${own}"`).join(', ') || 'none yet'}.`
        : `Did you mean "${near}"?`;
    return fail(problem('usage', { step: `--kit "${name}"` }, `"${name}" is not a kit of this lab.`, advice));
  });
  if (!found.ok) return found;
  const strangers = found.value.flatMap((kit, index) =>
    found.value
      .slice(index + 1)
      .flatMap((other) => (kit.with.has(other.name) ? [] : [`"${kit.name}" and "${other.name}"`])),
  );
  const [first] = strangers;
  if (first === undefined) return found;
  return fail(
    problem(
      'usage',
      {},
      `The lab does not say that the kits ${first} may be combined.`,
      'Add "with" to one of them in the lab file.',
    ),
  );
}

/** Reads every text; all problems of all are told. */
export function readAll<T>(
  texts: readonly string[],
  read: (text: string) => Outcome<T>,
): Outcome<readonly T[]> {
  const all = texts.map(read);
  const problems = all.flatMap((one) => (one.ok ? [] : one.problems));
  return problems.length > 0 ? fail(...problems) : succeed(all.flatMap((one) => (one.ok ? [one.value] : [])));
}
