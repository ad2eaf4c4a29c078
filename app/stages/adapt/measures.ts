import type { Lab } from '../../../src/lab/index.ts';

/** Something that can be asked of a run, with a limit to begin with. */
export interface MeasureChoice {
  /** As conditions write it: 'gap(k2)'. */
  readonly value: string;
  readonly says: string;
  readonly limit: string;
}

/** What can be looked at in a lab: gap, scatter and shares of each result, and how the run goes. */
export function measuresOf(lab: Lab): readonly MeasureChoice[] {
  // A result with a theory first: its gap is what the lab is about.
  const results = [...lab.results].sort((a, b) => Number(a.theory === null) - Number(b.theory === null));
  return [
    ...results.flatMap(({ name }) => [
      { value: `gap(${name})`, says: `gap of ${name} to theory`, limit: '5 %' },
      { value: `u(${name})`, says: `scatter of ${name}`, limit: '3 %' },
      ...lab.effects.map((effect) => ({
        value: `share(${name}, ${effect.name})`,
        says: `share of ${effect.name} in ${name}`,
        limit: '1 %',
      })),
    ]),
    { value: 'readings', says: 'readings in the window', limit: '8' },
    ...(lab.model.kind === 'motion'
      ? [
          { value: 'time', says: 'how long the run lasts', limit: '' },
          { value: 'speed', says: 'largest speed', limit: '' },
        ]
      : []),
  ];
}

/** What the best choice can be asked for. */
export interface AimChoice {
  /** Names the aim among others. */
  readonly value: string;
  readonly says: string;
  readonly sense: 'largest' | 'least';
  readonly measure: string;
}

/** Little scatter, a small gap, an effect that shows. */
export function aimsOf(lab: Lab): readonly AimChoice[] {
  const results = [...lab.results].sort((a, b) => Number(a.theory === null) - Number(b.theory === null));
  const aim = (sense: AimChoice['sense'], measure: string, says: string): AimChoice => ({
    value: `${sense} ${measure}`,
    says,
    sense,
    measure,
  });
  return results.flatMap(({ name }) => [
    aim('least', `gap(${name})`, `the least gap of ${name} to theory`),
    aim('least', `u(${name})`, `the least scatter of ${name}`),
    ...lab.effects.map((effect) =>
      aim(
        'largest',
        `visible(${name}, ${effect.name})`,
        `${effect.name} shown best, against the scatter of ${name}`,
      ),
    ),
  ]);
}

/** What a choice can be kept within: measures of results and of the run, and every quantity. */
export function limitsOf(lab: Lab): readonly MeasureChoice[] {
  return [
    ...[...measuresOf(lab)].sort((a, b) => Number(a.value.includes('(')) - Number(b.value.includes('('))),
    ...(lab.model.kind === 'motion'
      ? [{ value: 'energy', says: 'largest energy of motion', limit: '' }]
      : []),
    ...lab.quantities.all.map(({ name, is }) => ({
      value: name,
      says: is === '' ? name : `${name}, ${is}`,
      limit: '',
    })),
  ];
}
