// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/heavy-spring/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (the spring is a chain of twenty masses here, the load also swings to the side and so
// comes a little nearer at times, the sensor's scale and clock are a little off). The same files come out each time.
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

const random = randomNumbers(78531);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const offLoad = spread(0, 0.0001);
const k = spread(7.85, 0.025);
const m_f = within(0.0312, 0.00005);
const m_h = within(0.0046, 0.00005);
const c_s = spread(0.0006, 0.00012);
const c_1 = spread(6e-3, 1.5e-3);
const c_2 = spread(3e-3, 0.7e-3);

// What the lab does not know of.
const pieces = 20; // the spring is a chain of so many masses
const sensorScale = 1.006;
const clockRate = 1 - 8e-5;
const sideways = 0.004; // m, how far the load swings to the side
const cord = 0.55; // m, the length of spring that it swings on

/** 10 s at 50 Hz from a moment before the release: each piece pulled by its neighbours, step by step. */
function bob(load) {
  const m = load + offLoad + m_h;
  const stiff = k * pieces;
  const h = 2e-4;
  const z_0 = within(0.03, 0.004);
  const z = Float64Array.from({ length: pieces }, (_, i) => (z_0 * (i + 1)) / pieces);
  const v = new Float64Array(pieces);
  const masses = Float64Array.from(
    { length: pieces },
    (_, i) => m_f / pieces + (i === pieces - 1 ? m - m_f / pieces / 2 : 0),
  );
  const readings = [];
  const held = Math.round((0.2 + 0.5 * random.uniform()) / h);
  const side = 2 * Math.PI * random.uniform();
  const omega = Math.sqrt(9.81 / cord);
  for (let step = 0; readings.length < 500; step++) {
    if (step % 100 === 0) {
      const t = step * h;
      const swing = sideways * Math.sin(omega * t + side);
      const seen = sensorScale * (z[pieces - 1] - (swing * swing) / (2 * cord));
      readings.push({ t: t * clockRate, z: Math.round((seen + 0.0006 * random.normal()) * 1000) / 1000 });
    }
    if (step < held) continue;
    // The stand gives way to what the first piece pulls.
    const first = stiff / (1 + stiff * c_s);
    for (let i = 0; i < pieces; i++) {
      const up = i === 0 ? first * z[0] : stiff * (z[i] - z[i - 1]);
      const down = i === pieces - 1 ? 0 : stiff * (z[i + 1] - z[i]);
      const brake = i === pieces - 1 ? c_1 * v[i] + c_2 * v[i] * Math.abs(v[i]) : 0;
      v[i] += (h * (down - up - brake)) / masses[i];
    }
    for (let i = 0; i < pieces; i++) z[i] += h * v[i];
  }
  return readings;
}

const same = (text) => text;
const withComma = (text) => text.replace('.', ',');
const inMetres = (z) => z.toFixed(3);
const inMillimetres = (z) => (1000 * z).toFixed(0);

/** Two runs side by side, a time and a place each. */
const sideBySide = (runs, separator, mark, place) =>
  runs[0].map((_, i) =>
    runs.map((run) => `${mark(run[i].t.toFixed(4))}${separator}${mark(place(run[i].z))}`).join(separator),
  );
const write = (name, lines, end = '\n') =>
  writeFileSync(new URL(name, trials), Buffer.from(lines.join(end) + end, 'utf8'));
const pair = (load) => [bob(load), bob(load)];
const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';

// Comma, a row of run labels.
for (const grams of [50, 75]) {
  write(`spring-${grams}.csv`, [
    notMeasured,
    `spring with ${grams} g`,
    'run 1,,run 2,',
    'time (s),distance (m),time (s),distance (m)',
    ...sideBySide(pair(grams / 1000), ',', same, inMetres),
  ]);
}

// Semicolon, decimal comma, millimetres, German headings, line ends of two characters.
write(
  'spring-100.txt',
  [
    `\uFEFF${notMeasured}`,
    'Feder mit 100 g',
    '',
    'Zeit (s);Weg (mm);Zeit (s);Weg (mm)',
    ...sideBySide(pair(0.1), ';', withComma, inMillimetres),
  ],
  '\r\n',
);

// Tabs, units in a second heading row.
for (const grams of [150, 200]) {
  write(`spring-${grams}.tsv`, [
    `# ${notMeasured}`,
    `# spring with ${grams} g`,
    't\tz\tt\tz',
    '[s]\t[m]\t[s]\t[m]',
    ...sideBySide(pair(grams / 1000), '\t', same, inMetres),
  ]);
}
