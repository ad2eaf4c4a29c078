// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/draped-chain/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (a wheel that is not quite balanced, marks that are not quite even, a bearing that
// is stiff until it is warm, a first mark that was missed, a chain that brushes the stand). The same files come out
// each time.
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

const random = randomNumbers(155047);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.80664;
const L = within(1.55, 0.003);
const lambda = spread(0.0618, 0.0001);
const R = spread(0.032, 0.0002);
const theta_w = spread(Math.PI, 0.025);
const I = spread(2.9e-6, 0.25e-6);
const tau_b = spread(2.0e-5, 0.5e-5);
const d_b = spread(2.4e-6, 0.4e-6);
const s_b = spread(0.005, 0.0015);
const c_air = spread(1.0e-3, 0.3e-3);

// What the lab does not know of.
const imbalance = 0.15e-3 * g * 0.025; // N m: 0.15 g too much, 25 mm from the axle
const unevenness = Array.from({ length: 20 }, () => 0.006 * random.normal()); // of a spacing, each mark its own share

const marks = 20;
const spacing = (2 * Math.PI * R) / marks;
const mass = lambda * (L + theta_w * R) + I / (R * R);

function acceleration(x, v, hand) {
  const bent = (s_b * lambda * g * (L * L - 4 * x * x)) / (2 * L);
  const bearing = (tau_b + (hand.stiffness * d_b * v) / R) / R;
  const wheel = (imbalance * Math.sin(x / R + hand.angle)) / R;
  const brush = x > hand.brushesFrom ? 0.02 * (1 + Math.sin(400 * x)) : 0;
  return (2 * lambda * g * x + wheel - bent - bearing - c_air * v * v - brush) / mass;
}

const placeOfMark = (k, early) => (k - early + unevenness[k % marks]) * spacing;

/** Times of the marks from the release until 0.47 L: classical fourth-order steps of 20 microseconds. */
function runChain(hand) {
  const x_0 = within(0.006, 0.001);
  const early = within(0.2, 0.1);
  const h = 2e-5;
  const times = [];
  let [t, x, v, k] = [0, x_0, 0, 1];
  while (x < 0.47 * L) {
    const a1 = acceleration(x, v, hand);
    const v2 = v + (h / 2) * a1;
    const a2 = acceleration(x + (h / 2) * v, v2, hand);
    const v3 = v + (h / 2) * a2;
    const a3 = acceleration(x + (h / 2) * v2, v3, hand);
    const v4 = v + h * a3;
    const a4 = acceleration(x + h * v3, v4, hand);
    const xNext = x + (h / 6) * (v + 2 * v2 + 2 * v3 + v4);
    for (; placeOfMark(k, early) <= xNext - x_0; k++) {
      times.push(t + (h * (placeOfMark(k, early) - (x - x_0))) / (xNext - x));
    }
    x = xNext;
    v += (h / 6) * (a1 + 2 * a2 + 2 * a3 + a4);
    t += h;
  }
  // The chain is gone, the wheel runs on alone.
  for (let i = 0; i < 12; i++) times.push(times[times.length - 1] + (spacing / v) * (1 + 0.004 * i));
  const clockAtRelease = 0.3 + 2 * random.uniform();
  return times.map((time) => clockAtRelease + time);
}

/** The bearing is cold in the first run and warm in the last. */
const run = (number, brushesFrom = Infinity) =>
  runChain({ stiffness: 1.5 - 0.09 * number, angle: 2 * Math.PI * random.uniform(), brushesFrom });

/** The clock ticks every 20 microseconds. */
const tick = (t) => Math.round(t / 2e-5) * 2e-5;
const seconds = (t) => tick(t).toFixed(5);
const milliseconds = (t) => (1000 * tick(t)).toFixed(2);
const withComma = (text) => text.replace('.', ',');

/** Runs side by side, one column each; the shorter ones leave their cells empty. */
function sideBySide(runs, separator, format) {
  const rows = Math.max(...runs.map((times) => times.length));
  return Array.from({ length: rows }, (_, i) =>
    runs.map((times) => (i < times.length ? format(times[i]) : '')).join(separator),
  );
}

const utf8 = (lines, end = '\n') => Buffer.from(lines.join(end) + end, 'utf8');
const write = (name, bytes) => writeFileSync(new URL(name, trials), bytes);

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';
const runs = [run(1), run(2), run(3), run(4), run(5), run(6, 0.25)];

// Semicolon, decimal comma, byte-order mark, line ends of two characters.
write(
  'draped-1-2.csv',
  utf8(
    [
      `\uFEFF${notMeasured}`,
      'draped chain',
      'wheel with 20 marks, clock 20 us',
      '',
      'run 1;run 2',
      'edge (s);edge (s)',
      ...sideBySide(runs.slice(0, 2), ';', (t) => withComma(seconds(t))),
    ],
    '\r\n',
  ),
);

// UTF-16, tab, decimal point; one mark not seen, one stamp written twice.
const third = runs[2];
third.splice(33, 1);
const thirdLines = third.map((t, i) => `${i + 1}\t${milliseconds(t)}`);
thirdLines.splice(18, 0, thirdLines[17]);
write(
  'draped-3.txt',
  Buffer.from(
    `\uFEFF${[notMeasured, 'third run, after the wheel was wiped', 'count\tedge time (ms)', ...thirdLines].join('\n')}\n`,
    'utf16le',
  ),
);

// Tabs, units in a second heading row. In run 5 the gate was armed late and missed the first mark.
runs[4].shift();
write(
  'draped-4-6.tsv',
  utf8([
    `# ${notMeasured}`,
    '# runs 4, 5 and 6; in the last one the chain touched something',
    'mark seen at\tmark seen at\tmark seen at',
    '[s]\t[s]\t[s]',
    ...sideBySide(runs.slice(3), '\t', seconds),
  ]),
);
