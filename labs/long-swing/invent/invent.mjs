// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/long-swing/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (a pivot that rubs, a stand that yields, a sensor whose zero and scale are a little
// off, a clock that is slow, a recording that began two swings late). The same files come out each time.
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

const random = randomNumbers(60060);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);
const degree = Math.PI / 180;

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.81841;
const l = within(0.5, 0.0007);
const m_b = within(0.0862, 0.00005);
const r_b = within(0.03, 0.0002);
const V_b = spread(1.12e-4, 2e-6);
const m_s = spread(0.0024, 0.0001);
const rho = spread(1.19, 0.02);
const c_1 = spread(2e-4, 0.6e-4);
const c_2 = spread(8e-4, 1e-4);

// What the lab does not know of.
const rub = 4e-5; // N m, dry friction of the pivot
const yielding = 5e-4; // the stand sways along: so much more inertia
const sensorZero = 0.4; // degree
const sensorScale = 1.004;
const clockRate = 1 - 4e-5;

const inertia =
  (m_b * (l * l + 0.4 * r_b * r_b) + (m_s * l * l) / 3 + (rho * V_b * l * l) / 2) * (1 + yielding);
const moment = (m_b + m_s / 2 - rho * V_b) * l;

function acceleration(theta, omega) {
  const air = c_1 * l * l * omega + c_2 * l * l * l * omega * Math.abs(omega);
  return -(moment * g * Math.sin(theta) + air + rub * Math.sign(omega)) / inertia;
}

/** A recording of 5.6 s at 200 Hz that begins `early` seconds before the release (after it where negative). */
function swing(amplitude, early) {
  const h = 1e-4;
  const readings = [];
  let [theta, omega] = [within(amplitude, 0.5) * degree, 0];
  const read = (step) => {
    const angle = (theta / degree) * sensorScale + sensorZero + 0.05 * random.normal();
    readings.push({ t: step * h * clockRate, angle: Math.round(angle * 10) / 10 });
  };
  const first = Math.round(early / h);
  for (let step = Math.min(0, first); readings.length < 1120; step++) {
    if (step >= 0 && step % 50 === 0) read(step);
    if (step < first) continue;
    const a1 = acceleration(theta, omega);
    const w2 = omega + (h / 2) * a1;
    const a2 = acceleration(theta + (h / 2) * omega, w2);
    const w3 = omega + (h / 2) * a2;
    const a3 = acceleration(theta + (h / 2) * w2, w3);
    const w4 = omega + h * a3;
    const a4 = acceleration(theta + h * w3, w4);
    theta += (h / 6) * (omega + 2 * w2 + 2 * w3 + w4);
    omega += (h / 6) * (a1 + 2 * a2 + 2 * a3 + a4);
  }
  return readings;
}

const held = () => 0.3 + 0.5 * random.uniform();
const pair = (amplitude) => [swing(amplitude, held()), swing(amplitude, held())];

const same = (text) => text;
const withComma = (text) => text.replace('.', ',');

/** Two runs side by side, a time and an angle each. */
const sideBySide = (runs, separator, mark) =>
  runs[0].map((_, i) =>
    runs
      .map((readings) => readings[i])
      .map(
        ({ t, angle }) => `${mark(t.toFixed(4))}${separator}${angle === null ? '' : mark(angle.toFixed(1))}`,
      )
      .join(separator),
  );

const utf8 = (lines, end = '\n') => Buffer.from(lines.join(end) + end, 'utf8');
const write = (name, bytes) => writeFileSync(new URL(name, trials), bytes);

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';

// Semicolon, decimal comma, line ends of two characters; one row written twice.
const narrow = sideBySide(pair(20), ';', withComma);
narrow.splice(400, 0, narrow[399]);
write(
  'swing-20.csv',
  utf8(
    [
      notMeasured,
      'pendulum, 20 degrees',
      '',
      'run 1;;run 2;',
      'time (s);angle (°);time (s);angle (°)',
      ...narrow,
    ],
    '\r\n',
  ),
);

// Comma, byte-order mark; the second run has a gap of a tenth of a second.
const middle = pair(40);
for (let i = 700; i < 720; i++) middle[1][i].angle = null;
write(
  'swing-40.csv',
  utf8([
    `\uFEFF${notMeasured}`,
    '"pendulum, 40 degrees"',
    'time (s),angle (°),time (s),angle (°)',
    ...sideBySide(middle, ',', same),
  ]),
);

// UTF-16, tabs, units in a second heading row. The second recording began two swings late.
const late = [swing(60, held()), swing(60, -3.2)];
write(
  'swing-60.txt',
  Buffer.from(
    `\uFEFF${[
      notMeasured,
      'pendulum\t60 degrees',
      't\tangle\tt\tangle',
      '[s]\t[degree]\t[s]\t[degree]',
      ...sideBySide(late, '\t', withComma),
    ].join('\r\n')}\r\n`,
    'utf16le',
  ),
);

write(
  'swing-75.tsv',
  utf8([
    `# ${notMeasured}`,
    '# pendulum, 75 degrees',
    'Run A\t\tRun B\t',
    'time [s]\tangle [deg]\ttime [s]\tangle [deg]',
    ...sideBySide(pair(75), '\t', same),
  ]),
);
