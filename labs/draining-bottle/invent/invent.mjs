// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/draining-bottle/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (the bottle is wider above; air shortens the jet; each hole's edge is a little
// different; the plug takes a moment; the jet is wider where the level is low; the level swings). The same files come
// out each time.
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

const random = randomNumbers(73939);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.8076; // Zurich's latitude and height, to a few parts in 1e5
const gauge = spread(0, 0.01e-3);
const D = spread(92e-3, 0.15e-3);
const drop = spread(0.3, 0.4e-3);
const mark = spread(0, 0.25e-3);
const contraction = spread(0.63, 0.007);
const friction = spread(0.977, 0.005);
const sigma = spread(0.07, 0.002);
const rho = 998.2;
const parallax = spread(0.024, 0.002);
const eye = spread(0.06, 0.003);

// What the lab does not know of.
const airShare = 0.003; // of the jet's length
const weaker = 0.0015; // relative growth of the jet's area as the level goes from full to half
const widening = 0.1; // relative growth of the bottle's area with height, 1/m
const swing = 0.3e-3; // m, after the plug is pulled

const A = (Math.PI * D * D) / 4;

/** A picture each second, from 190 mm down to 42 mm. */
function drain(millimetres, edge) {
  const d = millimetres / 1000 + gauge;
  const a = (Math.PI * d * d) / 4;
  const start = within(0.19, 0.003);
  const late = 0.2 * random.uniform(); // s, while the plug is drawn off
  const skin = (2 * sigma) / (rho * g * d * Math.sqrt(contraction));
  const speed = (h) => friction * Math.sqrt(2 * g * (h - skin));
  const share = (h) => contraction * edge * (1 + weaker * (2 - h / 0.095));
  const rate = (h) => (-share(h) * a * speed(h)) / (A * (1 + widening * (h - 0.095)));
  const steps = 100; // between two pictures
  const pictures = [];
  let h = start;
  for (let i = 0; h > 0.042; i++) {
    const wave = swing * Math.exp(-i / 6) * Math.cos(2 * Math.PI * 2.3 * i);
    const seen = h + wave + mark + parallax * (h - eye) + 0.0005 * random.normal();
    const x = speed(h) * Math.sqrt((2 * drop) / g) * (1 - airShare) + 0.003 * random.normal();
    pictures.push({ t: i, h: Math.round(seen / 0.0004) * 0.0004, x: Math.round(x * 1000) / 1000 });
    const opens = i === 0 ? 1 - late : 1;
    const step = opens / steps;
    // The rule of the middle of the step.
    for (let k = 0; k < steps; k++) h += step * rate(h + (step / 2) * rate(h));
  }
  return pictures;
}

function three(millimetres) {
  const edge = spread(1, 0.002);
  return [drain(millimetres, edge), drain(millimetres, edge), drain(millimetres, edge)];
}

const same = (text) => text;
const withComma = (text) => text.replace('.', ',');

/** Runs side by side; each has time, level and length of the jet, and empty cells once it is over. */
function sideBySide(runs, separator, tell) {
  const rows = Math.max(...runs.map((run) => run.length));
  return Array.from({ length: rows }, (_, i) =>
    runs.map((run) => (run[i] === undefined ? ['', '', ''] : tell(run[i])).join(separator)).join(separator),
  );
}
const inMillimetres = ({ t, h, x }) => [t.toFixed(0), (1000 * h).toFixed(1), (1000 * x).toFixed(0)];
const inCentimetres = ({ t, h, x }) =>
  [t.toFixed(1), (100 * h).toFixed(2), (100 * x).toFixed(1)].map(withComma);
const inMetres = ({ t, h, x }) => [t.toFixed(0), h.toFixed(4), x.toFixed(3)].map(same);

const write = (name, lines, end = '\n') =>
  writeFileSync(new URL(name, trials), Buffer.from(lines.join(end) + end, 'utf8'));
const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';
const thrice = (headings, separator) => [headings, headings, headings].join(separator);

// Comma, a row of run labels.
write('hole-4.csv', [
  notMeasured,
  'hole of 4.00 mm',
  'run 1,,,run 2,,,run 3,,',
  thrice('time (s),level (mm),jet (mm)', ','),
  ...sideBySide(three(4), ',', inMillimetres),
]);

// Semicolon, decimal comma, centimetres, German headings, line ends of two characters.
write(
  'hole-5.txt',
  [
    `\uFEFF${notMeasured}`,
    'Loch von 5,00 mm',
    '',
    thrice('Zeit (s);Stand (cm);Strahl (cm)', ';'),
    ...sideBySide(three(5), ';', inCentimetres),
  ],
  '\r\n',
);

// Tabs, units in a second heading row.
write('hole-6.tsv', [
  `# ${notMeasured}`,
  '# hole of 6.00 mm',
  thrice('t\th\tx', '\t'),
  thrice('[s]\t[m]\t[m]', '\t'),
  ...sideBySide(three(6), '\t', inMetres),
]);
