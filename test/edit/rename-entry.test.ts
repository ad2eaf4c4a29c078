import { describe, expect, it } from 'vitest';
import { renameEntry, renameInProse } from '../../src/edit/index.ts';

const lab = `benchwright: 1
title: A gate
instruments:
  gate: { kind: edges, of: x/R, edges per turn: 10 } # the gate
  cell: { kind: sampled, of: F }
reduction:
  each run:
    - motion from edges: { of: gate, gives: [t, x, v] }
    - readings: { of: cell, gives: [s, F] }
    - line: { of: gate, against: t } # a column of this name, if there were one
trials:
  - { file: a.csv, reads: { gate: gate } }
kits:
  small: { instruments: { gate: { clock: 1 ms } }, with: [large] }
  large: { reduction: { each run: [motion from edges: { of: gate, gives: [t, x, v] }] } }
slips:
  twice: { readings: { gate: 2*edge }, reduction: { each run: { motion from edges: { of: gate } } } }
`;

const renamed = (at: readonly string[], to: string): string => {
  const outcome = renameEntry(lab, at, to);
  return outcome.ok ? outcome.value : (outcome.problems[0]?.message ?? '');
};

describe('an entry that gets another name', () => {
  it('is an instrument: steps, trials, kits and slips follow, and nothing that only looks alike', () => {
    expect(renamed(['instruments', 'gate'], 'wheel gate')).toBe(`benchwright: 1
title: A gate
instruments:
  wheel gate: { kind: edges, of: x/R, edges per turn: 10 } # the gate
  cell: { kind: sampled, of: F }
reduction:
  each run:
    - motion from edges: { of: wheel gate, gives: [t, x, v] }
    - readings: { of: cell, gives: [s, F] }
    - line: { of: gate, against: t } # a column of this name, if there were one
trials:
  - { file: a.csv, reads: { wheel gate: gate } }
kits:
  small: { instruments: { wheel gate: { clock: 1 ms } }, with: [large] }
  large: { reduction: { each run: [motion from edges: { of: wheel gate, gives: [t, x, v] }] } }
slips:
  twice: { readings: { wheel gate: 2*edge }, reduction: { each run: { motion from edges: { of: wheel gate } } } }
`);
  });

  it('is a kit: those that it may be combined with follow', () => {
    expect(renamed(['kits', 'large'], 'heavy')).toContain('with: [heavy]');
    expect(renamed(['kits', 'large'], 'heavy')).toContain('\n  heavy: { reduction');
  });

  it('keeps its name where the new one is empty or taken, and says so', () => {
    expect(renamed(['instruments', 'gate'], 'cell')).toBe('"cell" is there already.');
    expect(renamed(['instruments', 'gate'], ' ')).toBe('"gate" needs a name.');
    expect(renamed(['instruments', 'clock'], 'watch')).toBe('There is nothing of this name to be renamed.');
  });
});

describe('a symbol in a text of the author', () => {
  it('has its new name in directives, and words stay', () => {
    const text = `Take L as long as you like: :value[L]{at="L = 0.9 m, R = 2 cm"}, :symbol[L] in
:formula[v^2 = 2*g*L/(L + x_L)], at 12:L and \`:L\`. :value[k]{of=theory at='L=1 m'}

::figure[The chain of L = 1 m]{of=ledger result=L}

::figure[With L]{of=fit result="L" run="L 1"}

:value[ L ] :value[x_L] :tex[L] \\:value[L]
`;
    expect(
      renameInProse(text, 'L', 'L_c'),
    ).toBe(`Take L as long as you like: :value[L_c]{at="L_c = 0.9 m, R = 2 cm"}, :symbol[L_c] in
:formula[v^2 = 2*g*L_c/(L_c + x_L)], at 12:L and \`:L\`. :value[k]{of=theory at='L_c=1 m'}

::figure[The chain of L = 1 m]{of=ledger result=L_c}

::figure[With L]{of=fit result="L_c" run="L 1"}

:value[ L_c ] :value[x_L] :tex[L] \\:value[L]
`);
  });
});
