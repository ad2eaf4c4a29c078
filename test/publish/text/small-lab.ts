/** A ball that rolls from rest, watched at three places: small enough that every text is tried on it quickly. */
export const smallLab = `
benchwright: 1
title: A ball on a slope
question: Does the speed squared grow in step with the way?
level: [algebra, calculus]
quantities:
  a_0: { is: acceleration, value: 1.50 m/s^2, u: 0.01 m/s^2 }
  c:   { is: air over mass, value: 0.02 1/m, u: 0.005 1/m }
effects:
  air: { is: Air holds the ball back., off: { c: 0 1/m } }
model:
  start: { x: 0 m, v: 0 m/s }
  rates: { x: v, v: a_0 - c*v^2 }
  stops: { the ball is caught: x > 1.0 m }
derivation:
  - { line: "x'' = a_0", because: the slope is even }
  - { line: "v^2 = 2*a_0*x", because: "work and kinetic energy" }
instruments:
  gates: { kind: gates, of: x, at: [0.2 m, 0.4 m, 0.6 m, 0.8 m], flag: 20 mm, clock: 1 ms }
reduction:
  each run:
    - motion from gates: { of: gates, gives: [t, x, v] }
    - line: { of: v^2, against: x, slope: s }
results:
  s: { is: slope of v^2 against x, unit: m/s^2, theory: 2*a_0 }
plan: { settings: { a_0: [1.0 m/s^2, 1.5 m/s^2] }, repeats: 2 }
cautions:
  - Put a padded box where the ball leaves the slope.
`;
