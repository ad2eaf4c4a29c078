// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/tow-chain/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (a track that is not quite level, marks that are not quite even, a wheel a little
// off centre, a brake that differs from run to run, a first mark that was missed). The same files come out each time.
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

const random = randomNumbers(20814);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.81252;
const lambda = spread(0.0803, 0.0001);
const m_t = within(0.2513, 0.00005);
const R = spread(0.0182, 0.0001);
const h_t = spread(0.0192, 0.0004);
const I = spread(7.2e-7, 0.8e-7);
const phi = within(0.2, 0.06);
const F_r = spread(0.014, 0.002);
const c_air = spread(3.6e-3, 0.9e-3);
const s_b = spread(0.006, 0.0015);
const h_b = 1.1;

// What the lab does not know of.
const tilt = 0.0005; // the wheel's end of the track is high by 0.5 mm in a metre
const offCentre = 0.011; // a mark comes early or late by this share of a spacing, once a turn
const unevenness = Array.from({ length: 10 }, () => 0.004 * random.normal()); // and each mark by its own share

const marks = 10;
const spacing = (2 * Math.PI * R) / marks;

function acceleration(x, v, L, brake) {
  const above = m_t + lambda * (L - x);
  const pull = lambda * g * (x + h_t) - above * g * tilt;
  return (pull - (1 + s_b) * (brake + c_air * v * v)) / (m_t + lambda * L + I / (R * R) + s_b * above);
}

/** Chain displacement at which mark k shows at the gate. */
function placeOfMark(k, startAngle) {
  const wobble = offCentre * Math.sin((2 * Math.PI * k) / marks + startAngle);
  return (k - phi + wobble + unevenness[k % marks]) * spacing;
}

/** Times of the marks from the release: classical fourth-order steps of 20 microseconds. */
function runChain(L, x_0, brake) {
  const end = Math.min(0.9 * L, h_b);
  const startAngle = 2 * Math.PI * random.uniform();
  const h = 2e-5;
  const times = [];
  let [t, x, v, k] = [0, x_0, 0, 1];
  while (x < end) {
    const a1 = acceleration(x, v, L, brake);
    const v2 = v + (h / 2) * a1;
    const a2 = acceleration(x + (h / 2) * v, v2, L, brake);
    const v3 = v + (h / 2) * a2;
    const a3 = acceleration(x + (h / 2) * v2, v3, L, brake);
    const v4 = v + h * a3;
    const a4 = acceleration(x + h * v3, v4, L, brake);
    const xNext = x + (h / 6) * (v + 2 * v2 + 2 * v3 + v4);
    for (; placeOfMark(k, startAngle) <= xNext - x_0; k++) {
      times.push(t + (h * (placeOfMark(k, startAngle) - (x - x_0))) / (xNext - x));
    }
    x = xNext;
    v += (h / 6) * (a1 + 2 * a2 + 2 * a3 + a4);
    t += h;
  }
  // The trolley sits in the foam, the wheel runs on alone for a while.
  for (let i = 0; i < 7; i++) times.push(times[times.length - 1] + (spacing / v) * (1.06 + 0.09 * i));
  return times;
}

/** One run: hand and brake differ a little, and the logger's clock has been running for a while already. */
function run(L) {
  const times = runChain(L, within(0.15, 0.002), F_r * (1 + 0.03 * random.normal()));
  const clockAtRelease = 0.6 + 1.5 * random.uniform();
  return times.map((t) => clockAtRelease + t);
}

const seconds = (t) => t.toFixed(5);
const milliseconds = (t) => (1000 * t).toFixed(2).replace('.', ',');

/** Runs side by side, a running number and a time each; the shorter ones leave their cells empty. */
function sideBySide(runs, separator, format) {
  const rows = Math.max(...runs.map((times) => times.length));
  return Array.from({ length: rows }, (_, i) =>
    runs
      .map((times) => (i < times.length ? `${i + 1}${separator}${format(times[i])}` : separator))
      .join(separator),
  );
}

const utf8 = (lines, end = '\n') => Buffer.from(lines.join(end) + end, 'utf8');
const write = (name, bytes) => writeFileSync(new URL(name, trials), bytes);

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';

// Comma, byte-order mark, a row of run labels above the heading, three runs of different length.
const short = [run(0.9), run(0.9), run(0.9)];
short[1].length -= 5; // its logger was stopped early
write(
  'chain-090.csv',
  utf8([
    `\uFEFF${notMeasured}`,
    'Tow chain, sheet 1: chain 0.90 m',
    'gate clock 10 us, wheel with 10 marks',
    '',
    'run 1,,run 2,,run 3,',
    'mark,edge time (s),mark,edge time (s),mark,edge time (s)',
    ...sideBySide(short, ',', seconds),
  ]),
);

// UTF-16, tab, decimal comma, units in a second heading row, line ends of two characters; one stamp written twice.
const first = run(1.2);
const firstLines = first.map((t, i) => `${i + 1}\t${milliseconds(t)}`);
firstLines.splice(31, 0, firstLines[30]);
write(
  'chain-120-a.txt',
  Buffer.from(
    `\uFEFF${[notMeasured, 'Tow chain, sheet 2', 'Chain:\t1,20 m', '', 'mark\tedge time', '\t(ms)', ...firstLines].join('\r\n')}\r\n`,
    'utf16le',
  ),
);

// Semicolon, decimal comma, a remark in the heading; one mark was not seen.
const second = run(1.2);
second.splice(47, 1);
write(
  'chain-120-b.txt',
  utf8([
    notMeasured,
    'chain 1,20 m; second run; somebody walked past the gate',
    '',
    'mark;edge time (ms);remark',
    ...second.map((t, i) => `${i + 1};${milliseconds(t)};${i === 0 ? 'let go at about zero' : ''}`),
  ]),
);

// A plain file, hardly a preamble, square brackets.
write('chain-120-c.csv', utf8([`# ${notMeasured}`, 'edge time [s]', ...run(1.2).map(seconds)]));

// Tabs, three runs side by side. In the third the gate was armed late and missed the first mark.
const long = [run(1.5), run(1.5), run(1.5)];
long[2].shift();
write(
  'chain-150.tsv',
  utf8([
    notMeasured,
    'Tow chain, sheet 4\tchain 1.50 m',
    'axle 1.10 m above the box',
    'Run A\t\tRun B\t\tRun C\t',
    'no.\tt edge (s)\tno.\tt edge (s)\tno.\tt edge (s)',
    ...sideBySide(long, '\t', seconds),
  ]),
);
