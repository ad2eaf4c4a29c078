// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/rollers/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (a ring that is heavier on one side, a cylinder with a drilled axis, a cheap ball that
// is not quite solid, gates that stand where they stand, a resistance that differs from run to run). The same files
// come out each time.
import { writeFileSync } from 'node:fs';

/** Lehmer's generator with Park and Miller's multiplier of 1993: 48271 modulo 2^31 - 1. */
let state = 52201;
function uniform() {
  state = (state * 48271) % 2147483647;
  return state / 2147483647;
}
function normal() {
  let sum = -6;
  for (let i = 0; i < 12; i++) sum += uniform();
  return sum;
}
const spread = (value, u) => value + u * normal();

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.81064;
const length = spread(1.2, 0.0004);
const rise = spread(0.084, 0.0002);
const wall = spread(0.125, 0.002);
const lever = spread(2.0e-5, 5e-6);
const sag = spread(0.0012, 0.0002);
const air = spread(9e-4, 2e-4);
const radius = 0.02;

// What the lab does not know of.
const gates = [0.1, 0.28, 0.46, 0.64, 0.82, 1.0];
const standing = gates.map((place) => place + 0.0001 * normal());
const offCentre = 0.004; // of the radius, where the ring's mass has its centre
const rollers = [
  { name: 'ring', mass: 0.092, shape: (1 + (1 - wall) ** 2) / 2, eccentric: offCentre },
  { name: 'cylinder', mass: 0.171, shape: 0.5 * (1 + 0.05 ** 2), eccentric: 0 },
  { name: 'ball', mass: 0.0905, shape: 0.401, eccentric: 0 },
];

/** Times at which the middle of a roller passes the gates, counted from release. */
function roll({ mass, shape, eccentric }) {
  const own = lever * (1 + 0.05 * normal());
  const begins = 0.06 + 0.003 * (2 * uniform() - 1);
  const angle = 2 * Math.PI * uniform();
  const sine = rise / length;
  const cosine = Math.sqrt(1 - sine * sine);
  const a = (x, v) => {
    const slope = sine + ((4 * sag) / length) * (1 - (2 * x) / length);
    const heavySide = eccentric * Math.sin(angle + (x - begins) / radius);
    return (g * (slope + heavySide) - (g * cosine * own) / radius - (air * v * v) / mass) / (1 + shape);
  };
  const times = [];
  const h = 2e-5;
  let [t, x, v] = [0, begins, 0];
  while (times.length < standing.length) {
    const half = v + (h / 2) * a(x, v);
    const next = x + h * half;
    while (times.length < standing.length && standing[times.length] <= next) {
      times.push(t + (h * (standing[times.length] - x)) / (next - x));
    }
    v += h * a(x + (h / 2) * v, half);
    x = next;
    t += h;
  }
  const clockAtRelease = 0.4 + uniform();
  return times.map((time) => (Math.round(1e4 * (clockAtRelease + time)) / 1e4).toFixed(4));
}

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';
for (const roller of rollers) {
  const runs = [roll(roller), roll(roller), roll(roller)];
  const isBall = roller.name === 'ball';
  const [separator, end] = isBall ? [';', '\r\n'] : [',', '\n'];
  const cell = (text) => (isBall ? text.replace('.', ',') : text);
  const place = (x) => cell(isBall ? (100 * x).toFixed(1) : x.toFixed(2));
  const heading = isBall ? 'Ort (cm);Zeit (s)' : 'gate (m),time (s)';
  const lines = [
    notMeasured,
    isBall ? 'Kugel' : roller.name,
    ...(isBall ? [''] : ['run 1,,run 2,,run 3,']),
    Array(3).fill(heading).join(separator),
    ...gates.map((x, i) => runs.map((run) => `${place(x)}${separator}${cell(run[i])}`).join(separator)),
  ];
  writeFileSync(
    new URL(`../trials/${roller.name}.${isBall ? 'txt' : 'csv'}`, import.meta.url),
    lines.join(end) + end,
  );
}
