// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/cooling-mug/invent/invent.mjs
//
// It stands alone, with influences that lab.yaml knows nothing of: the mug's wall follows the water a little late, the
// thermometer lags, draughts come and go, water goes on the table by a path of its own, and the room's warmth wavers.
// The same files come out each time.
import { writeFileSync } from 'node:fs';

/** Lehmer's generator with Park and Miller's multiplier of 1993: 48271 modulo 2^31 - 1. */
let state = 73061;
function uniform() {
  state = (state * 48271) % 2147483647;
  return state / 2147483647;
}
/** Normal enough: twelve uniform numbers, summed. */
function normal() {
  let sum = -6;
  for (let i = 0; i < 12; i++) sum += uniform();
  return sum;
}

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const room = 20.2 + 0.06 * normal();
const mug = 245 + 8 * normal();
const G = 0.29 + 0.004 * normal();
const vapour = 0.05 + 0.0035 * normal();
const radius = 0.041 + 0.0002 * normal();
const humidity = 0.45 + 0.03 * normal();
const radiating = 0.93 * 0.026 * (1 + 0.03 * normal());
const moving = 0.45 + 0.03 * normal();
const power = 0.25 + 0.02 * normal();
const warming = (0.3 + 0.1 * normal()) / 3600;

// What the lab does not know of.
const between = 18; // W/K from the water into the wall
const lag = 6; // s by which the thermometer follows
const gust = 0.04; // relative, of what air takes
const wavering = 0.04; // K
const clockRate = 1 - 8e-5;
const scale = 1.0006;

const kelvin = (celsius) => celsius + 273.15;
/** Buck's formula of 1981 instead of the one that the lab takes. */
const pressure = (celsius) => 611.21 * Math.exp((17.502 * celsius) / (240.97 + celsius));

/** Readings each ten seconds for a quarter of an hour, from the moment when the water has the temperature. */
function cool(celsius) {
  let water = celsius + 0.4 * (2 * uniform() - 1);
  let wall = water - 0.9 * ((water - room) / 60);
  let shown = water + 0.1;
  let mass = 0.25 + 0.0007 * normal();
  const phase = 2 * Math.PI * uniform();
  const step = 0.25;
  const atTen = radiating * 5.670374419e-8 * ((kelvin(room) + 10) ** 4 - kelvin(room) ** 4);
  const readings = [];
  for (let i = 0; i <= 3600; i++) {
    const t = i * step;
    if (i % 40 === 0) {
      const value = room + scale * (shown - room) + 0.05 * normal();
      readings.push({ t: t * clockRate, T: value });
    }
    const air = room + warming * t + wavering * Math.sin((2 * Math.PI * t) / 420 + phase);
    const draught = 1 + gust * Math.sin((2 * Math.PI * t) / 170 + 2 * phase);
    const excess = wall - air;
    const byAir = moving * G * excess * (excess / 10) ** power * draught;
    const byRadiation = radiating * 5.670374419e-8 * (kelvin(wall) ** 4 - kelvin(air) ** 4);
    const byTable = (G * (1 - moving) - atTen / 10) * excess;
    const byVapour = vapour * Math.PI * radius ** 2 * (pressure(water) - humidity * pressure(room)) * draught;
    const through = between * (water - wall);
    mass -= (step * byVapour) / 2.33e6;
    water -= (step * (through + byVapour)) / (mass * 4184);
    wall += (step * (through - byAir - byRadiation - byTable)) / mug;
    shown += (step * (water - shown)) / lag;
  }
  return readings;
}

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';
const same = (text) => text;
const withComma = (text) => text.replace('.', ',');
const inSeconds = (t) => t.toFixed(1);
const inMinutes = (t) => (t / 60).toFixed(3);
const rows = (runs, separator, time, mark) =>
  runs[0].map((_, i) =>
    runs.map((run) => `${mark(time(run[i].t))}${separator}${mark(run[i].T.toFixed(1))}`).join(separator),
  );
const write = (name, lines, end = '\n') =>
  writeFileSync(new URL(`../trials/${name}`, import.meta.url), lines.join(end) + end);

for (const celsius of [35, 50]) {
  write(`mug-${celsius}.csv`, [
    notMeasured,
    `mug from ${celsius} degrees Celsius`,
    'run 1,,run 2,',
    'time (s),temperature (°C),time (s),temperature (°C)',
    ...rows([cool(celsius), cool(celsius)], ',', inSeconds, same),
  ]);
}

// Semicolon, decimal comma, minutes, German headings, line ends of two characters.
write(
  'mug-65.txt',
  [
    `\uFEFF${notMeasured}`,
    'Tasse ab 65 Grad Celsius',
    '',
    'Zeit (min);Temperatur (°C);Zeit (min);Temperatur (°C)',
    ...rows([cool(65), cool(65)], ';', inMinutes, withComma),
  ],
  '\r\n',
);

// Tabs, units in a second heading row.
write('mug-80.tsv', [
  `# ${notMeasured}`,
  '# mug from 80 degrees Celsius',
  't\tT\tt\tT',
  '[s]\t[°C]\t[s]\t[°C]',
  ...rows([cool(80), cool(80)], '\t', inSeconds, same),
]);
