import { createPipeline, type Pipeline, readLab } from '../../src/lab/index.ts';

/** A weight that falls past a speed sensor: invented, small, and with everything that a figure can show. */
const FALLING_LAB = `
benchwright: 1
title: A falling weight
question: Is the acceleration the same for every weight?
quantities:
  g:   { is: local acceleration, value: 9.81 m/s^2 }
  m:   { is: mass of the weight, value: 50.0 g, reading: 0.1 g }
  c_d: { is: air resistance over speed squared, value: 1.2e-3 kg/m, u: 2e-4 kg/m }
  v_m: { is: largest speed that the sensor follows, value: 4.0 m/s }
effects:
  air holds back: { off: { c_d: 0 kg/m } }
model:
  start: { x: 0 m, v: 0 m/s }
  rates: { x: v, v: g - c_d/m*v^2 }
  lasts: 0.5 s
  holds while: { the sensor follows: v < v_m }
instruments:
  speed sensor: { kind: sampled, of: v, rate: 50 Hz, resolution: 2 mm/s, noise: 5 mm/s }
reduction:
  each run:
    - readings: { of: speed sensor, gives: [t, v] }
    - line: { of: v, against: t, slope: a, intercept: b }
results:
  a: { unit: m/s^2, theory: g }
plan: { settings: { m: [20 g, 50 g, 80 g] }, repeats: 2 }
`;

export function fallingPipeline(): Pipeline {
  const lab = readLab(FALLING_LAB, 'lab.yaml');
  if (!lab.ok) throw new Error(lab.problems.map(({ message }) => message).join('\n'));
  return createPipeline(lab.value);
}
