// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/falling-chain/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (links that arrive one by one, a heap that grows towards the falling ones, a cell
// that is a spring with a damper rather than a plain lag, a tare that was not quite zero, one chain whose end lay on
// the pan already). The same files come out each time.
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

const random = randomNumbers(31416);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.80012;
const L = within(0.8, 0.002);
const lambda = spread(0.1184, 0.0003);
const c_l = spread(8e-4, 2e-4);
const tau = spread(0.004, 0.0004);

// What the lab does not know of.
const heap = 0.014; // m, height of the heap when all has landed
const pitch = 0.011; // m of chain between one link's arrival and the next
const damping = 0.8; // of the cell; its stiffness is such that slow forces lag by tau
const angularFrequency = (2 * damping) / tau;

/** What the cell shows while a chain falls whose lowest link is `gap` above the pan; a sample each 2.5 ms. */
function dropChain(gap) {
  const firstSample = -0.2 + within(0, 0.00125);
  const release = within(0, 0.015); // the hand opens when it opens
  const tare = within(0, 0.006);
  const shares = Array.from({ length: 90 }, () => 1 + 0.03 * random.normal()); // no two links arrive alike
  const h = 2e-5;
  const readings = [];
  let [x, v, shown, change] = [0, 0, 0, 0];
  for (let step = 0; readings.length < 600; step++) {
    const t = firstSample + step * h;
    if (step % 125 === 0) {
      const noisy = shown + tare + 0.006 * random.normal();
      readings.push({ t, F: Math.round(noisy / 0.005) * 0.005 });
    }
    const landed = Math.min(Math.max((x - gap) / (1 - heap / L), 0), L);
    const arrives = x > gap && landed < L ? (lambda * v * v) / (1 - heap / L) : 0;
    const force = lambda * g * landed + arrives * shares[Math.floor(landed / pitch) % shares.length];
    // Rate first, then reading: stable for a damped spring at a step this far below its period.
    change +=
      h * (angularFrequency * angularFrequency * (force - shown) - 2 * damping * angularFrequency * change);
    shown += h * change;
    if (t > release && landed < L) {
      const a = g - (c_l * v * v) / lambda;
      x += h * v + 0.5 * h * h * a;
      v += h * a;
    }
  }
  return readings;
}

const drop = () => dropChain(within(0.012, 0.003));
const drops = [drop(), drop(), drop(), dropChain(-0.03), drop(), drop()];

const timeText = (t) => t.toFixed(4);
const newton = (F) => F.toFixed(3);
const milliNewton = (F) => (1000 * F).toFixed(0);
const withComma = (text) => text.replace('.', ',');

/** Runs side by side, a time and a force each. */
const sideBySide = (runs, separator, mark) =>
  runs[0].map((_, i) => runs.map((readings) => cells(readings[i], mark).join(separator)).join(separator));
const cells = (reading, mark) =>
  reading === null
    ? ['', '']
    : [mark(timeText(reading.t)), reading.F === null ? '' : mark(newton(reading.F))];

const utf8 = (lines, end = '\n') => Buffer.from(lines.join(end) + end, 'utf8');
const write = (name, bytes) => writeFileSync(new URL(name, trials), bytes);

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';
const same = (text) => text;

// Comma, byte-order mark, a row of run labels.
write(
  'drop-1-2.csv',
  utf8([
    `\uFEFF${notMeasured}`,
    'chain on force cell; 400 samples a second',
    'run 1,,run 2,',
    'time (s),force (N),time (s),force (N)',
    ...sideBySide(drops.slice(0, 2), ',', same),
  ]),
);

// Semicolon, decimal comma, millinewton, German headings; one row written twice, two rows lost.
const third = drops[2].map(({ t, F }) => `${withComma(timeText(t))};${milliNewton(F)}`);
third.splice(301, 2);
third.splice(120, 0, third[119]);
write(
  'drop-3.txt',
  utf8(
    [
      notMeasured,
      'Kette auf Kraftmesser; dritter Versuch',
      'Kette 0,80 m',
      '',
      'Zeit (s);Kraft (mN)',
      ...third,
    ],
    '\r\n',
  ),
);

// UTF-16, tabs, decimal comma, units in a second heading row; in run 5 some cells stayed empty. Run 4 is the one
// whose lowest three centimetres lay on the pan at the start.
for (let i = 118; i < 123; i++) drops[4][i].F = null;
write(
  'drop-4-6.tsv',
  Buffer.from(
    `\uFEFF${[
      notMeasured,
      'Runs 4 to 6',
      't\tF\tt\tF\tt\tF',
      '[s]\t[N]\t[s]\t[N]\t[s]\t[N]',
      ...sideBySide(drops.slice(3), '\t', withComma),
    ].join('\n')}\n`,
    'utf16le',
  ),
);
