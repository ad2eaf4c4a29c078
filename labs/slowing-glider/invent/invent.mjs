// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/slowing-glider/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (the drag of the magnets grows less than in step at speed; the track sags; gates stand a
// little off their places; rubbing is not the same in each run; the card brings air along). The same files come out each
// time.
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

const random = randomNumbers(28657);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.8127;
const m = spread(0.25, 0.0001);
const b = spread(0.02, 0.0003);
const rubbing = spread(0.0004, 0.00008);
const card = spread(8.5e-3, 0.5e-3);
const fall = spread(1e-4, 0.3e-4);
const flag = spread(0.05, 0.00003);

// What the lab does not know of.
const fastest = 12; // m/s, at which the drag of the magnets would be largest
const sag = 0.00005; // m, the track's middle is low by so much
const taken = 0.0004; // kg of air that comes along with the card
const gates = [0.05, 0.3, 0.55, 0.8, 1.05, 1.3];
const standing = gates.map((place) => place + 0.0002 * random.normal());

/** Times at which the front and the back of the flag pass each gate, rounded to 10 microseconds. */
function glide(speed) {
  const dry = rubbing * (1 + 0.03 * random.normal());
  const a = (x, v) => {
    const slope = fall - ((4 * sag) / 1.5) * ((2 * (x + 0.1)) / 1.5 - 1);
    return (m * g * slope - dry - (b * v) / (1 + (v / fastest) ** 2) - card * v * v) / (m + taken);
  };
  const passes = standing.flatMap((place) => [place - flag / 2, place + flag / 2]);
  const times = [];
  const h = 2e-5;
  let [t, x, v] = [0, -0.1, within(speed, 0.02)];
  while (times.length < passes.length) {
    const half = v + (h / 2) * a(x, v);
    const next = x + h * half;
    while (times.length < passes.length && passes[times.length] <= next) {
      times.push(t + (h * (passes[times.length] - x)) / (next - x));
    }
    v += h * a(x + (h / 2) * v, half);
    x = next;
    t += h;
  }
  const clockAtRelease = 0.5 + 2 * random.uniform();
  const tick = (time) => Math.round(time / 1e-5) * 1e-5;
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

for (const speed of [0.3, 0.45, 0.6, 0.8, 1]) {
  const runs = [glide(speed), glide(speed), glide(speed)];
  const name = `glider-${(100 * speed).toFixed(0)}`;
  if (speed === 0.6) {
    // Semicolon, decimal comma, centimetres, German headings, line ends of two characters.
    const heading = 'Ort (cm);Zeit (s);verdeckt (s)';
    write(
      `${name}.txt`,
      [
        `\uFEFF${notMeasured}`,
        'Gleiter mit 0,60 m/s',
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
  write(`${name}.csv`, [
    notMeasured,
    `glider pushed to ${speed.toFixed(2)} m/s`,
    'run 1,,,run 2,,,run 3,,',
    three('gate (m),time (s),blocked (ms)'),
    ...sideBySide(runs, ',', ({ place, time, blocked }) => [
      place.toFixed(2),
      time.toFixed(5),
      (1000 * blocked).toFixed(2),
    ]),
  ]);
}
