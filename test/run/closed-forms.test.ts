import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { pipelineFrom } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';

interface SmallLab {
  readonly quantities: readonly string[];
  readonly start: string;
  readonly rates: string;
  readonly end: string;
  /** What a ruler reads at the end of the motion, by the name of the result, with the result's unit. */
  readonly read: Readonly<Record<string, readonly [of: string, unit: string]>>;
}

/** What whole small labs, read from text, say at the end of their motion. */
function endOf({ quantities, start, rates, end, read }: SmallLab): Record<string, number> {
  const names = Object.keys(read);
  const text = `benchwright: 1
title: A closed form
quantities:
${quantities.map((quantity) => `  ${quantity}\n`).join('')}model:
  start: { ${start} }
  rates: { ${rates} }
  ${end}
instruments:
${names.map((name) => `  see ${name}: { kind: ruler, of: "${read[name][0]}" }\n`).join('')}reduction:
  each run:
${names.map((name) => `    - readings: { of: see ${name}, gives: [${name}_r] }\n    - mean: { of: ${name}_r, gives: ${name} }\n`).join('')}results:
${names.map((name) => `  ${name}: { unit: "${read[name][1]}" }\n`).join('')}`;
  return Object.fromEntries(
    must(predict(pipelineFrom(text))).results.map(({ name, predicted }) => [name, predicted.value]),
  );
}

// All closed forms of any mechanics or physics textbook; values computed with 40 digits.
describe('a whole lab gives what the textbook says', () => {
  it('a trolley drawn by its own hanging chain passes 1 m after 1.7168 s at 1.4885 m/s', () => {
    const { v_1, t_1 } = endOf({
      quantities: [
        'L:   { value: 1.2 m }',
        'm_c: { value: 96.4 g }',
        'm_t: { value: 251.3 g }',
        'x_0: { value: 0.15 m }',
        'g:   { value: 9.81 m/s^2 }',
      ],
      start: 'x: x_0, v: 0 m/s',
      rates: 'x: v, v: m_c*g*x/(L*(m_t + m_c))',
      end: 'stops: { passed: x > 1 m }',
      read: { v_1: ['v', 'm/s'], t_1: ['t', 's'] },
    });
    expect(v_1).toBeCloseTo(1.4884643429005215, 9);
    expect(t_1).toBeCloseTo(1.7167707162318495, 9);
  });

  it('a chain draped over a wheel with inertia and bearing torque is at 0.42583 m after 1.1 s', () => {
    const { x_1, v_1 } = endOf({
      quantities: [
        'L:      { value: 1.3 m }',
        'lambda: { value: 45 g/m }',
        'R:      { value: 25 mm }',
        'I:      { value: 2.2e-6 kg m^2 }',
        'tau:    { value: 1.5e-4 N m }',
        'g:      { value: 9.81 m/s^2 }',
      ],
      start: 'x: 0.02 m, v: 0 m/s',
      rates: 'x: v, v: "(2*lambda*g*x - dry(tau/R, v))/(lambda*L + I/R^2)"',
      end: 'lasts: 1.1 s',
      read: { x_1: ['x', 'm'], v_1: ['v', 'm/s'] },
    });
    expect(x_1).toBeCloseTo(0.4258358266768464, 9);
    expect(v_1).toBeCloseTo(1.5802641334534997, 8);
  });

  it('a capacitor with a meter in parallel has 3.3496 V left of 9 V after 10 s', () => {
    const { V_1 } = endOf({
      quantities: ['C: { value: 470 uF }', 'R: { value: 22 kohm }', 'R_m: { value: 1 Mohm }'],
      start: 'V: 9 V',
      rates: '"V": -V*(1/R + 1/R_m)/C',
      end: 'lasts: 10 s',
      read: { V_1: ['V', 'V'] },
    });
    expect(V_1).toBeCloseTo(3.349563347115977, 9);
  });

  it('a bottle drains in 145.65 s (Torricelli)', () => {
    const { t_e } = endOf({
      quantities: [
        'h_0: { value: 25 cm }',
        'k:   { is: contracted hole over surface, value: 0.00155 }',
        'g:   { value: 9.81 m/s^2 }',
      ],
      start: 'h: h_0',
      rates: 'h: "-k*sqrt(2*g*max(h, 0))"',
      end: 'stops: { empty: h < 1e-12 m }',
      read: { t_e: ['t', 's'] },
    });
    // √h falls evenly in time: at 10⁻¹² m all but a millionth of √h₀ is gone.
    expect(t_e).toBeCloseTo(145.6527874147519 * (1 - 2e-6), 5);
  });

  it('a cup cools from 85 °C to 55.086 °C in 30 min (Newton)', () => {
    const { T_1 } = endOf({
      quantities: ['T_a: { value: 21 °C }', 'T_0: { value: 85 °C }', 'k: { value: 0.021 1/min }'],
      start: 'T: T_0',
      rates: 'T: -k*(T - T_a)',
      end: 'lasts: 30 min',
      read: { T_1: ['T', 'K'] },
    });
    expect(T_1).toBeCloseTo(55.08587526444142 + 273.15, 7);
  });

  it('a damped swing is at −2.0255 cm after 3 s', () => {
    const { x_1 } = endOf({
      quantities: ['w: { value: 5 rad/s }', 'b: { value: 0.4 1/s }'],
      start: 'x: 10 cm, v: 0 m/s',
      rates: 'x: v, v: -w^2*x - 2*b*v',
      end: 'lasts: 3 s',
      read: { x_1: ['x', 'm'] },
    });
    expect(x_1).toBeCloseTo(-0.020255253033709748, 10);
  });
});
