// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/drawn-cart/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (a cord that has mass, a track that sags in the middle, gates that stand where they
// stand, a resistance that differs from run to run). The same files come out each time.
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

const random = randomNumbers(38731);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.80037;
const offWeight = spread(0, 0.00005);
const m_T = spread(0.52, 0.0002);
const turning = spread(0.011, 0.0015) + spread(0.0026, 0.0004);
const mu_r = spread(0.0055, 0.0008);
const tilt = spread(0.0008, 0.0003);
const c_air = spread(5e-3, 1.2e-3);

// What the lab does not know of.
const cord = 0.0003; // kg/m
const cordLength = 1.1;
const sag = 0.0006; // m, the track's middle is low by so much
const gates = [0.02, 0.15, 0.28, 0.41, 0.54, 0.67];
const standing = gates.map((place) => place + 0.0002 * random.normal());
const flag = 0.02 + 0.00005;

/** Times at which the flag's middle, front and back pass a place, at steps of 20 microseconds. */
function draw(weight) {
  const m_h = weight + offWeight;
  const m_c = m_T - m_h;
  const resistance = mu_r * (1 + 0.04 * random.normal()) * m_c * g;
  const mass = m_T + turning + cord * cordLength;
  const a = (x, v) => {
    const slope = tilt - ((4 * sag) / 0.9) * ((2 * (x + 0.1)) / 0.9 - 1);
    return (m_h * g + cord * g * (0.15 + x) + m_c * g * slope - resistance - c_air * v * v) / mass;
  };
  const passes = standing.flatMap((place) => [place - flag / 2, place + flag / 2]);
  const times = [];
  const h = 2e-5;
  let [t, x, v] = [0, -within(0.06, 0.003), 0];
  while (times.length < passes.length) {
    const a1 = a(x, v);
    const half = v + (h / 2) * a1;
    const a2 = a(x + (h / 2) * v, half);
    const next = x + h * half;
    while (times.length < passes.length && passes[times.length] <= next) {
      times.push(t + (h * (passes[times.length] - x)) / (next - x));
    }
    x = next;
    v += h * a2;
    t += h;
  }
  const clockAtRelease = 0.5 + 2 * random.uniform();
  const tick = (time) => Math.round(time / 2e-5) * 2e-5;
  return gates.map((place, i) => {
    const begins = tick(clockAtRelease + times[2 * i]);
    return { place, time: begins, blocked: tick(clockAtRelease + times[2 * i + 1]) - begins };
  });
}

const withComma = (text) => text.replace('.', ',');
const sideBySide = (runs, separator, cells) =>
  runs[0].map((_, i) => runs.map((run) => cells(run[i]).join(separator)).join(separator));
const write = (name, lines, end = '\n') =>
  writeFileSync(new URL(name, trials), Buffer.from(lines.join(end) + end, 'utf8'));
const three = (cells) => [cells, cells, cells].join(',');
const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';

for (const grams of [20, 30, 40, 50, 60]) {
  const runs = [draw(grams / 1000), draw(grams / 1000), draw(grams / 1000)];
  if (grams === 40) {
    // Semicolon, decimal comma, centimetres, German headings, line ends of two characters.
    const heading = 'Ort (cm);Zeit (s);verdeckt (s)';
    write(
      'cart-40.txt',
      [
        `\uFEFF${notMeasured}`,
        'Wagen mit 40 g',
        '',
        [heading, heading, heading].join(';'),
        ...sideBySide(runs, ';', ({ place, time, blocked }) =>
          [(100 * place).toFixed(1), time.toFixed(5), blocked.toFixed(5)].map(withComma),
        ),
      ],
      '\r\n',
    );
    continue;
  }
  write(`cart-${grams}.csv`, [
    notMeasured,
    `cart drawn by ${grams} g`,
    'run 1,,,run 2,,,run 3,,',
    three('gate (m),time (s),blocked (ms)'),
    ...sideBySide(runs, ',', ({ place, time, blocked }) => [
      place.toFixed(2),
      time.toFixed(5),
      (1000 * blocked).toFixed(2),
    ]),
  ]);
}
