// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/heavy-wheel/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (a wheel that is not quite balanced, marks that are not quite even, a grease that is
// stiff until it is warm, a cord that creeps a little on the groove). The same files come out each time.
import { writeFileSync } from 'node:fs';

const trials = new URL('../trials/', import.meta.url);

/** Lehmer's generator with Park and Miller's multiplier of 1993: 48271 modulo 2^31 - 1. */
function randomNumbers(seed) {
  let state = seed;
  const uniform = () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
  /** Normal enough: twelve uniform numbers, summed; no logarithm, so every machine gives the same bits. */
  const normal = () => {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += uniform();
    return sum;
  };
  return { uniform, normal };
}

const random = randomNumbers(46907);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.80711;
const offWeight = spread(0, 0.0001);
const m_r = spread(0.02, 0.00002);
const m_d = spread(0.184, 0.0002);
const R = spread(0.05, 0.0001);
const I = spread(0.515, 0.008) * m_d * R * R;
const h = within(0.85, 0.005);
const R_c = R + spread(0.0009, 0.00005) / 2;
const lambda = spread(0.00062, 0.00001);
const L_c = within(1.3, 0.01);
const tau_b = spread(4e-5, 0.8e-5);
const s_b = spread(6e-6, 1.2e-6);
const c_air = spread(2.6e-3, 0.5e-3);

// What the lab does not know of.
const imbalance = 0.05e-3 * g * 0.03; // N m: 0.05 g too much, 30 mm from the axle
const unevenness = Array.from({ length: 12 }, () => 0.004 * random.normal()); // of a spacing, each mark its own share
const creep = 0.0008; // share by which the wheel lags behind the cord

const marks = 12;

/** Times of the marks from the release: classical fourth-order steps of 50 microseconds. */
function fall(weight, stiffness) {
  const m_s = weight + offWeight;
  const drag = (stiffness * tau_b + s_b * g * (2 * m_s + m_r + m_d)) / R_c;
  const mass = 2 * m_s + m_r + lambda * L_c + I / (R_c * R_c);
  const startAngle = 2 * Math.PI * random.uniform();
  const early = within(0.5, 0.45);
  const firstMark = Math.floor(marks * random.uniform());
  const a = (x, v) => {
    const turned = x / R_c + startAngle;
    const wheel = (imbalance * Math.sin(turned)) / R_c;
    return (m_r * g + lambda * g * (2 * x - h) + wheel - c_air * v * v - drag) / mass;
  };
  const placeOf = (k) =>
    ((k - early + unevenness[(k + firstMark) % marks]) * 2 * Math.PI * R_c * (1 + creep)) / marks;
  const step = 5e-5;
  const times = [];
  let [t, x, v, k] = [0, 0, 0, 1];
  while (x < h) {
    const a1 = a(x, v);
    const v2 = v + (step / 2) * a1;
    const a2 = a(x + (step / 2) * v, v2);
    const v3 = v + (step / 2) * a2;
    const a3 = a(x + (step / 2) * v2, v3);
    const v4 = v + step * a3;
    const a4 = a(x + step * v3, v4);
    const next = x + (step / 6) * (v + 2 * v2 + 2 * v3 + v4);
    for (; placeOf(k) <= next; k++) times.push(t + (step * (placeOf(k) - x)) / (next - x));
    x = next;
    v += (step / 6) * (a1 + 2 * a2 + 2 * a3 + a4);
    t += step;
  }
  const clockAtRelease = 0.4 + 2 * random.uniform();
  return times.map((time) => Math.round((clockAtRelease + time) / 5e-5) * 5e-5);
}

/** The grease is stiff in the first run and warm in the last. */
let runs = 0;
const run = (weight) => fall(weight, 1.15 - 0.03 * runs++);

/** Runs side by side, one column each; the shorter ones leave their cells empty. */
function sideBySide(columns, separator, format) {
  const rows = Math.max(...columns.map((times) => times.length));
  return Array.from({ length: rows }, (_, i) =>
    columns.map((times) => (i < times.length ? format(times[i]) : '')).join(separator),
  );
}

const seconds = (t) => t.toFixed(5);
const milliseconds = (t) => (1000 * t).toFixed(2).replace('.', ',');
const write = (name, text) => writeFileSync(new URL(name, trials), Buffer.from(text, 'utf8'));
const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';

const light = [run(0.1), run(0.1), run(0.15), run(0.15)];
write(
  'light.csv',
  `${[notMeasured, 'heavy wheel; 100 g twice, then 150 g twice', '', 'run 1,run 2,run 3,run 4', Array(4).fill('mark (s)').join(','), ...sideBySide(light, ',', seconds)].join('\n')}\n`,
);

// Semicolon, decimal comma, milliseconds, German headings, line ends of two characters.
const middle = [run(0.2), run(0.2)];
write(
  'middle.txt',
  `\uFEFF${[notMeasured, 'Rad mit 200 g auf jeder Seite', '', 'Marke (ms);Marke (ms)', ...sideBySide(middle, ';', milliseconds)].join('\r\n')}\r\n`,
);

// Tabs, units in a second heading row.
const heavy = [run(0.25), run(0.25), run(0.3), run(0.3)];
write(
  'heavy.tsv',
  `${[`# ${notMeasured}`, '# 250 g twice, 300 g twice', Array(4).fill('time').join('\t'), Array(4).fill('[s]').join('\t'), ...sideBySide(heavy, '\t', seconds)].join('\n')}\n`,
);
