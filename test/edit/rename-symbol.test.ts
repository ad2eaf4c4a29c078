import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { renameSymbol } from '../../src/edit/index.ts';
import { readLab } from '../../src/lab/index.ts';

const folder = fileURLToPath(new URL('../../labs/', import.meta.url));
const labs = readdirSync(folder)
  .filter((name) => existsSync(`${folder}${name}/lab.yaml`))
  .map((name) => ({ name, text: readFileSync(`${folder}${name}/lab.yaml`, 'utf8') }));

function renamed(text: string, from: string, to: string): string {
  const outcome = renameSymbol(text, from, to);
  return outcome.ok ? outcome.value : (outcome.problems[0]?.message ?? '');
}

const small = `benchwright: 1
title: The m in the title
quantities:
  m: { is: mass m of the cart, value: 2 m, u: 1 mm, from: m on the label } # m
  k: { value: 3 N/m }
  m2: { equals: 2*m + m2x }
where:
  w: sqrt(k/m)*m' # of m
effects:
  m matters: { is: m, off: { m: 0 m } }
model:
  stops: { m ends: x > 0.2 m and m > 3 m }
derivation:
  - { line: "m*x'' = -k*x - integrate(m*s, s, 0, m)", because: m moves }
infer: { free: [m, k] }
plan: { settings: { m: [1 m, 2 m] } }
trials:
  - { file: m.csv, reads: { gate: m }, when: { m: 2 m } }
`;

describe('a symbol that gets another name', () => {
  it('has it everywhere it is a symbol, and nowhere it is a unit or a word', () => {
    expect(renamed(small, 'm', 'mass')).toBe(`benchwright: 1
title: The m in the title
quantities:
  mass: { is: mass m of the cart, value: 2 m, u: 1 mm, from: m on the label } # m
  k: { value: 3 N/m }
  m2: { equals: 2*mass + m2x }
where:
  w: sqrt(k/mass)*mass' # of m
effects:
  m matters: { is: m, off: { mass: 0 m } }
model:
  stops: { m ends: x > 0.2 m and mass > 3 m }
derivation:
  - { line: "mass*x'' = -k*x - integrate(mass*s, s, 0, mass)", because: m moves }
infer: { free: [mass, k] }
plan: { settings: { mass: [1 m, 2 m] } }
trials:
  - { file: m.csv, reads: { gate: m }, when: { mass: 2 m } }
`);
  });

  it('and its old one back, is byte for byte as it was', () => {
    expect(renamed(renamed(small, 'm', 'mass'), 'mass', 'm')).toBe(small);
  });

  it('cannot take a name that is taken, that is none, or that means something', () => {
    expect(renamed(small, 'm', 'k')).toBe('"k" is a symbol of this lab already.');
    expect(renamed(small, 'm', 's')).toBe('"s" is a symbol of this lab already.');
    expect(renamed(small, 'm', '2m')).toContain('"2m" cannot be a symbol');
    expect(renamed(small, 'm', 'sqrt')).toContain('has a meaning of its own');
    expect(renamed(small, 'm', 'pi')).toContain('has a meaning of its own');
    expect(renamed(small, 'q', 'r')).toBe('"q" is no symbol of this lab.');
  });

  it('is refused where an expression that holds it cannot be read', () => {
    const broken = small.replace('sqrt(k/m)', 'sqrt(k/m');
    expect(renamed(broken, 'm', 'mass')).toContain('(where, w) cannot be read, so "m" is not renamed.');
  });
});

describe.each(labs)('a quantity of $name', ({ text }) => {
  const before = readLab(text, 'lab.yaml');
  if (!before.ok) throw new Error('a shipped lab is not sound');
  const names = before.value.quantities.all.map(({ name }) => name).filter((_, index) => index % 5 === 1);

  it('can be renamed and back, and what theory predicts stays what it is', () => {
    const valuesOf = (of: string): readonly unknown[] => {
      const lab = readLab(of, 'lab.yaml');
      if (!lab.ok) throw new Error(lab.problems[0]?.message);
      return [
        ...lab.value.quantities.all.map((quantity) => ('value' in quantity ? quantity.value : null)),
        lab.value.results.length,
      ];
    };
    const expected = valuesOf(text);
    for (const name of names) {
      const changed = renameSymbol(text, name, `${name}_new`);
      if (!changed.ok) throw new Error(changed.problems[0]?.message);
      expect(valuesOf(changed.value)).toEqual(expected);
      const back = renameSymbol(changed.value, `${name}_new`, name);
      expect(back.ok && back.value.replace(/ +/g, ' ')).toBe(text.replace(/ +/g, ' '));
    }
  });
});
