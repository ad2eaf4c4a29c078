import { describe, expect, it } from 'vitest';
import { readTrial } from '../../src/lab/trial/index.ts';
import { drawQuantities, fitTable, judgeLinearity, stateQuantities } from '../../src/run/index.ts';
import { labFrom } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';

/*
 * Worked examples of JCGM 100:2008, annex H, and JCGM 101:2008, section 9, as lab files of quantities alone, to the
 * digits printed there. Their figures are from memory; what can be recomputed was, and agrees.
 */

const labOf = (quantities: string, rest = '') =>
  labFrom(`benchwright: 1\ntitle: An example\nquantities:\n${quantities}${rest}`);

function stated(lab: ReturnType<typeof labOf>, name: string, level?: number) {
  const found = stateQuantities(lab, level).find(({ quantity }) => quantity.name === name);
  if (found === undefined) throw new Error(`no quantity ${name}`);
  return found;
}

function drawn(lab: ReturnType<typeof labOf>, name: string, level: number, draws: number | 'adaptive') {
  const all = must(drawQuantities(lab, { draws, level, seed: 3 }));
  const found = all.quantities.find(({ quantity }) => quantity.name === name);
  if (found === undefined) throw new Error(`no quantity ${name}`);
  return found.drawn;
}

describe('JCGM 100, H.1: an end gauge of 50 mm', () => {
  const lab = labOf(`  l_s: { value: 50.000623 mm, u: 25 nm, dof: 18 }
  D: { value: 215 nm, u: 5.8 nm, dof: 24 }
  d_1: { value: 0 nm, u: 3.9 nm, dof: 5 }
  d_2: { value: 0 nm, u: 6.7 nm, dof: 8 }
  alpha: { value: 11.5e-6 1/K, within: 2e-6 1/K }
  theta: { value: -0.1 K, u: 0.41 K }
  delta_alpha: { value: 0 1/K, u: 0.58e-6 1/K, dof: 50 }
  delta_theta: { value: 0 K, u: 0.029 K, dof: 2 }
  l: { equals: l_s + D + d_1 + d_2 - l_s*(delta_alpha*theta + alpha*delta_theta) }
`);

  it('50.000 838 mm, u 32 nm, 16 degrees of freedom, U 93 nm at 99 %', () => {
    const { value, standardUncertainty, degreesOfFreedom, interval } = stated(lab, 'l', 0.99);
    expect(value * 1e3).toBeCloseTo(50.000838, 6);
    expect(standardUncertainty * 1e9).toBeCloseTo(32, -0.4);
    expect(Math.floor(degreesOfFreedom)).toBe(16);
    expect(((interval.high - interval.low) / 2) * 1e9).toBeCloseTo(93, -0.4);
  });

  it('its second-order term of 11.7 nm raises u to 34 nm, and is told', () => {
    expect(judgeLinearity(lab, stateQuantities(lab)).map(({ code }) => code)).toEqual(['not-linear']);
  });
});

describe('JCGM 100, H.2: resistance and reactance, correlated', () => {
  const lab = labOf(
    `  V: { observed: [5.007 V, 4.994 V, 5.005 V, 4.990 V, 4.999 V] }
  I: { observed: [19.663 mA, 19.639 mA, 19.640 mA, 19.685 mA, 19.678 mA] }
  phi: { observed: [1.0456 rad, 1.0438 rad, 1.0468 rad, 1.0428 rad, 1.0433 rad] }
  R: { equals: V/I*cos(phi) }
  X: { equals: V/I*sin(phi) }
  Z: { equals: V/I }
`,
    `correlations:
  - { between: [V, I], is: -0.355311 }
  - { between: [V, phi], is: 0.857643 }
  - { between: [I, phi], is: -0.645111 }
`,
  );

  it.each([
    ['R', 127.732, 0.071],
    ['X', 219.847, 0.295],
    ['Z', 254.26, 0.236],
  ])('%s = %f Ω, u %f Ω, 4 degrees of freedom', (name, value, u) => {
    const found = stated(lab, name);
    expect(found.value).toBeCloseTo(value, 3);
    expect(Math.abs(found.standardUncertainty - u)).toBeLessThan(1e-3);
  });
});

describe('JCGM 100, H.3: calibration of a thermometer', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const text = `t,b\n${t.map((value, i) => `${value},${b[i]}`).join('\n')}\n`;
  const fitted = async (of: string) => {
    const table = must(await readTrial(new TextEncoder().encode(text), { file: 'h3.csv' }));
    return must(fitTable(table, { of, start: new Map() }, 'h3.csv'));
  };

  it('−0.1712(29) °C and 0.002 18(67), correlation −0.930, s = 0.0035 °C', async () => {
    const { parameters, fit } = await fitted('b = y_1 + y_2*(t - 20)');
    expect(parameters[0]?.value).toBeCloseTo(-0.1712, 4);
    expect(parameters[0]?.standardUncertainty).toBeCloseTo(0.0029, 4);
    expect(parameters[1]?.value).toBeCloseTo(0.00218, 5);
    expect(parameters[1]?.standardUncertainty).toBeCloseTo(0.00067, 5);
    const [v11 = 0, v12 = 0, , v22 = 0] = fit.covariance;
    expect(v12 / Math.sqrt(v11 * v22)).toBeCloseTo(-0.93, 3);
    expect(fit.residualSd).toBeCloseTo(0.0035, 4);
    expect(fit.degreesOfFreedom).toBe(9);
  });

  it('the correction at 30 °C is −0.1494(41) °C, by the origin set there', async () => {
    const { parameters } = await fitted('b = b_30 + y_2*(t - 30)');
    expect(parameters[0]?.value).toBeCloseTo(-0.1494, 4);
    expect(parameters[0]?.standardUncertainty).toBeCloseTo(0.0041, 4);
  });

  it('and by the law of propagation from both, correlation taken along', () => {
    const lab = labOf(
      `  y_1: { value: -0.1712 K, u: 0.0029 K, dof: 9 }
  y_2: { value: 0.00218, u: 0.00067, dof: 9 }
  above: { value: 10 K }
  b: { equals: y_1 + y_2*above }
`,
      'correlations:\n  - { between: [y_1, y_2], is: -0.930 }\n',
    );
    expect(stated(lab, 'b').value).toBeCloseTo(-0.1494, 4);
    expect(stated(lab, 'b').standardUncertainty).toBeCloseTo(0.0041, 4);
  });
});

describe('JCGM 100, H.4: activity of a sample of water', () => {
  // Counting times of standard, blank and sample (min) and their counts, six cycles; 60 minutes each.
  const cycles = [
    [243.74, 15380, 305.56, 4054, 367.37, 41432],
    [984.53, 14978, 1046.1, 3922, 1107.66, 38706],
    [1723.87, 14394, 1785.43, 4200, 1846.99, 35860],
    [2463.17, 13254, 2524.73, 3830, 2586.28, 32238],
    [3217.56, 12516, 3279.12, 3956, 3340.68, 29640],
    [3956.83, 11058, 4018.38, 3980, 4079.94, 26356],
  ] as const;
  const decay = 1.25894e-4;
  const rate = (counts: number, blank: number, time: number) =>
    ((counts - blank) / 60) * Math.exp(decay * time);
  const sample = cycles.map(([, , , blank, time, counts]) => rate(counts, blank, time));
  const standard = cycles.map(([time, counts, , blank]) => rate(counts, blank, time));
  const list = (values: readonly number[]) => values.map((value) => `${value} 1/min`).join(', ');
  const constants = `  A_S: { value: 0.1368 Bq/g, u: 0.0018 Bq/g }
  m_S: { value: 5.0192 g, u: 0.005 g }
  m_x: { value: 5.0571 g, u: 0.0010 g }
`;

  it('by the mean rates and their correlation of 0.646: 0.4300(83) Bq/g', () => {
    const lab = labOf(
      `${constants}  R_x: { observed: [${list(sample)}] }
  R_S: { observed: [${list(standard)}] }
  A_x: { equals: A_S*m_S/m_x*R_x/R_S, unit: Bq/g }
`,
      'correlations:\n  - { between: [R_x, R_S], is: 0.646 }\n',
    );
    expect(stated(lab, 'R_x').value * 60).toBeCloseTo(652.6, 1);
    expect(stated(lab, 'R_x').standardUncertainty * 60).toBeCloseTo(6.42, 2);
    expect(stated(lab, 'R_S').value * 60).toBeCloseTo(206.09, 2);
    expect(stated(lab, 'R_S').standardUncertainty * 60).toBeCloseTo(3.79, 2);
    expect(stated(lab, 'A_x').value / 1000).toBeCloseTo(0.43, 3);
    expect(stated(lab, 'A_x').standardUncertainty / 1000).toBeCloseTo(0.0083, 4);
  });

  it('by the ratios of each cycle: 3.170(46) and 0.4304(84) Bq/g', () => {
    const ratios = sample.map((value, k) => value / (standard[k] ?? Number.NaN));
    const lab = labOf(`${constants}  R: { observed: [${ratios.join(', ')}] }
  A_x: { equals: A_S*m_S/m_x*R, unit: Bq/g }
`);
    expect(stated(lab, 'R').value).toBeCloseTo(3.17, 3);
    expect(stated(lab, 'R').standardUncertainty).toBeCloseTo(0.046, 3);
    expect(stated(lab, 'A_x').value / 1000).toBeCloseTo(0.4304, 4);
    expect(stated(lab, 'A_x').standardUncertainty / 1000).toBeCloseTo(0.0084, 4);
  });
});

describe('JCGM 100, H.6: hardness of a block on the scale Rockwell C', () => {
  // In units of the scale: five depths of which one scatters by 0.45, the block of the comparison 0.11, the scale 0.5.
  const lab = labOf(`  depth: { value: 36.0, u: ${0.45 / Math.sqrt(5)} }
  of_the_machine: { value: 0 }
  of_the_block: { value: 0, u: 0.11 }
  of_the_scale: { value: 0, u: 0.5 }
  h: { equals: 100 - depth - of_the_machine - of_the_block - of_the_scale }
`);

  it('64.0 HRC, u 0.55 HRC, of which the definition of the scale has the greatest part', () => {
    const { value, standardUncertainty, budget } = stated(lab, 'h');
    expect(value).toBe(64);
    expect(standardUncertainty).toBeCloseTo(0.55, 2);
    expect(budget[0]?.from).toBe('of_the_scale');
  });
});

describe('JCGM 101, 9.2: the sum of four quantities', () => {
  const four = (entry: string) =>
    labOf(
      `${[1, 2, 3, 4].map((k) => `  X_${k}: { value: 0, ${entry} }\n`).join('')}  Y: { equals: X_1 + X_2 + X_3 + X_4 }\n`,
    );

  it('normal: ±3.92', () => {
    const { symmetric, standardUncertainty } = drawn(four('u: 1'), 'Y', 0.95, 200_000);
    expect(standardUncertainty).toBeCloseTo(2, 1);
    expect(Math.abs(symmetric.high - 3.92)).toBeLessThan(0.03);
    expect(Math.abs(symmetric.low + 3.92)).toBeLessThan(0.03);
  });

  it('rectangular: ±3.88, where the normal ±3.92 of linear propagation would be', () => {
    const lab = four(`within: ${Math.sqrt(3)}`);
    const { symmetric } = drawn(lab, 'Y', 0.95, 200_000);
    expect(Math.abs(symmetric.high - 3.88)).toBeLessThan(0.03);
    expect(stated(lab, 'Y').interval.high).toBeCloseTo(3.92, 2);
  });
});

describe('JCGM 101, 9.4: the loss in comparing two power meters', () => {
  const loss = (x: number, correlation = 0) =>
    labOf(
      `  x_1: { value: ${x}, u: 0.005 }
  x_2: { value: 0, u: 0.005 }
  y: { equals: x_1^2 + x_2^2 }
`,
      correlation === 0 ? '' : `correlations:\n  - { between: [x_1, x_2], is: ${correlation} }\n`,
    );

  // In 10⁻⁶: mean, u, shortest 95 % interval.
  it.each([
    [0, 0, 50, 50, 0, 150],
    [0.01, 0, 150, 112, 0, 367],
    [0.05, 0, 2550, 502, 1590, 3543],
    [0, 0.9, 50, 67, 0, 185],
    [0.01, 0.9, 150, 121, 13, 398],
    [0.05, 0.9, 2550, 505, 1628, 3555],
  ])('x₁ = %f, r = %f: %f(%f), from %f to %f', (x, correlation, mean, u, low, high) => {
    const found = drawn(loss(x, correlation), 'y', 0.95, 200_000);
    expect(Math.abs(found.mean * 1e6 - mean)).toBeLessThan(0.005 * mean + 1);
    expect(Math.abs(found.standardUncertainty * 1e6 - u)).toBeLessThan(0.01 * u);
    expect(Math.abs(found.shortest.low * 1e6 - low)).toBeLessThan(0.06 * u);
    expect(Math.abs(found.shortest.high * 1e6 - high)).toBeLessThan(0.06 * u);
  });

  it('the linear propagation finds u = 0 at x₁ = 0, and says that it cannot be trusted there', () => {
    const lab = loss(0);
    expect(stated(lab, 'y').standardUncertainty).toBe(0);
    const [told] = judgeLinearity(lab, stateQuantities(lab));
    expect(told?.code).toBe('not-linear');
    expect(told?.message).toContain('x_1 and x_2');
    expect(judgeLinearity(loss(0.05), stateQuantities(loss(0.05)))).toEqual([]);
  });
});

describe('JCGM 101, 9.5: the end gauge by draws', () => {
  const turn = 2 * Math.PI;
  // An arc sine distribution is a sine of an angle spread evenly; a curvilinear trapezoid has a half-width spread evenly.
  const lab = labOf(`  l_s: { value: 50.000623 mm, u: 25 nm, dof: 18 }
  D: { value: 215 nm, u: 6 nm, dof: 24 }
  d_1: { value: 0 nm, u: 4 nm, dof: 5 }
  d_2: { value: 0 nm, u: 7 nm, dof: 8 }
  alpha_s: { value: 11.5e-6 1/K, within: 2e-6 1/K }
  theta_0: { value: -0.1 K, u: 0.2 K }
  phase: { value: 0, within: ${turn / 2} }
  swing: { value: 0.5 K }
  w_alpha: { value: 1e-6 1/K, within: 0.1e-6 1/K }
  w_theta: { value: 0.05 K, within: 0.025 K }
  r_1: { value: 0, within: 1 }
  r_2: { value: 0, within: 1 }
  l_0: { value: 50 mm }
  delta_l: { equals: l_s + D + d_1 + d_2 - l_0 - l_s*(w_alpha*r_1*(theta_0 + swing*sin(phase)) + alpha_s*w_theta*r_2), unit: nm }
`);

  it('838 nm, u 36 nm, shortest 99 % interval from 745 nm to 932 nm', () => {
    const found = drawn(lab, 'delta_l', 0.99, 200_000);
    expect(found.mean * 1e9).toBeCloseTo(838, -0.4);
    expect(Math.abs(found.standardUncertainty * 1e9 - 36)).toBeLessThan(0.6);
    expect(Math.abs(found.shortest.low * 1e9 - 745)).toBeLessThan(4);
    expect(Math.abs(found.shortest.high * 1e9 - 932)).toBeLessThan(4);
  });
});

describe('adaptive draws', () => {
  const lab = labOf('  a: { value: 2, u: 0.1 }\n  b: { value: 3, within: 0.2 }\n  p: { equals: a*b }\n');

  it('go on until two digits are sure, state what each figure lacks, and repeat from their seed', () => {
    const options = { draws: 'adaptive', seed: 11 } as const;
    const first = must(drawQuantities(lab, options));
    const second = must(drawQuantities(lab, options));
    expect(first.stable).toBe(true);
    expect(first.draws).toBeGreaterThan(10_000);
    expect(second).toEqual(first);
    const product = first.quantities[2]?.drawn;
    const tolerance = 0.005;
    for (const lacking of Object.values(product?.numerical ?? { none: Number.NaN }))
      expect(2 * lacking).toBeLessThan(tolerance);
  });
});
