// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/leaking-capacitor/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (charge comes out of the dielectric at two paces, not at one; the capacitance drifts
// with the room; the logger's scale and clock are a little off; mains hum). The same files come out each time.
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

const random = randomNumbers(40961);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const ohmmeter = spread(0, 0.0015);
const C = spread(98.4e-6, 0.4e-6);
const zero = spread(0, 0.002);
const G_m = spread(1.0e-6, 0.008e-6);
const G_d = spread(0.06e-6, 0.01e-6);
const C_2 = spread(3.0e-6, 0.4e-6);
const t_2 = spread(5.0, 0.7);

// What the lab does not know of.
const C_3 = 0.25e-6; // a second, slower part of the dielectric
const t_3 = 60; // s
const drift = 4e-5; // relative change of the capacitance from run to run, as the room warms
const scale = 1.004;
const clockRate = 1 + 1.2e-4;
const hum = 0.002; // V

let done = 0;

/** 10 readings a second for a little over one and a half times R times C. */
function discharge(kilohm) {
  const R = kilohm * 1000 * (1 + ohmmeter);
  const own = C * (1 + drift * done++);
  const steps = 200; // between two readings
  const h = 0.1 / steps;
  const readings = [];
  let u = within(8.8, 0.1);
  let w = u;
  let deep = u;
  const count = Math.ceil(1.58 * kilohm * 1000 * 98.4e-6 * 10);
  const side = 2 * Math.PI * random.uniform();
  const rates = (u, w, deep) => [
    -(u * (1 / R + G_m + G_d) + ((u - w) * C_2) / t_2 + ((u - deep) * C_3) / t_3) / own,
    (u - w) / t_2,
    (u - deep) / t_3,
  ];
  for (let i = 0; i < count; i++) {
    const t = i * 0.1;
    // Ten a second catch a hum of 49.97 Hz as a slow beat; half its size each way.
    const beat = hum * Math.sin(2 * Math.PI * 0.03 * t + side);
    const shown = scale * (u + beat) + zero + 0.006 * random.normal();
    readings.push({ t: t * clockRate, u: Math.round(shown / 0.005) * 0.005 });
    for (let step = 0; step < steps; step++) {
      // The rule of the middle of the step.
      const [a, b, c] = rates(u, w, deep);
      const [d, e, f] = rates(u + (h / 2) * a, w + (h / 2) * b, deep + (h / 2) * c);
      u += h * d;
      w += h * e;
      deep += h * f;
    }
  }
  return readings;
}

const same = (text) => text;
const withComma = (text) => text.replace('.', ',');
const inVolts = (u) => u.toFixed(3);
const inMillivolts = (u) => (1000 * u).toFixed(0);

/** Runs side by side, a time and a voltage each. */
const sideBySide = (runs, separator, mark, voltage) =>
  runs[0].map((_, i) =>
    runs.map((run) => `${mark(run[i].t.toFixed(4))}${separator}${mark(voltage(run[i].u))}`).join(separator),
  );
const write = (name, lines, end = '\n') =>
  writeFileSync(new URL(name, trials), Buffer.from(lines.join(end) + end, 'utf8'));
const three = (kilohm) => [discharge(kilohm), discharge(kilohm), discharge(kilohm)];
const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';

// Comma, a row of run labels.
for (const kilohm of [33, 56]) {
  write(`ohm-${kilohm}k.csv`, [
    notMeasured,
    `capacitor over ${kilohm} kilohm`,
    'run 1,,run 2,,run 3,',
    'time (s),voltage (V),time (s),voltage (V),time (s),voltage (V)',
    ...sideBySide(three(kilohm), ',', same, inVolts),
  ]);
}

// Semicolon, decimal comma, millivolts, German headings, line ends of two characters.
write(
  'ohm-100k.txt',
  [
    `\uFEFF${notMeasured}`,
    'Kondensator an 100 Kiloohm',
    '',
    'Zeit (s);Spannung (mV);Zeit (s);Spannung (mV);Zeit (s);Spannung (mV)',
    ...sideBySide(three(100), ';', withComma, inMillivolts),
  ],
  '\r\n',
);

// Tabs, units in a second heading row.
write('ohm-220k.tsv', [
  `# ${notMeasured}`,
  '# capacitor over 220 kilohm',
  't\tu\tt\tu\tt\tu',
  '[s]\t[V]\t[s]\t[V]\t[s]\t[V]',
  ...sideBySide(three(220), '\t', same, inVolts),
]);
