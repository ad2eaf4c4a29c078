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
