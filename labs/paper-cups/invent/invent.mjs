// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/paper-cups/invent/invent.mjs
//
// It stands alone: its own random numbers, its own small integrator, none of the project's modules, and influences
// that lab.yaml knows nothing of (cups that rock and so drag more at times, a draught in the room, a picture whose scale
// grows a little towards its edges, cups that are not all alike). The same files come out each time.
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

const random = randomNumbers(55676);
const spread = (value, u) => value + u * random.normal();
const within = (value, half) => value + half * (2 * random.uniform() - 1);

// What lab.yaml states with uncertainty has one true value, somewhere inside it.
const g = 9.81552;
const m_1 = spread(0.00112, 0.000005);
const A = (Math.PI * spread(0.084, 0.0004) ** 2) / 4;
const C = spread(0.95, 0.03);
const rho = spread(1.19, 0.008);
const c_n = spread(0.01, 0.003);
const v_c = spread(0.05, 0.015);
const V_a = spread(0.00012, 0.00003);

// What the lab does not know of.
const rocking = 0.02; // share by which the drag rises and falls
const draught = 0.01; // m/s, differs from run to run
const bulge = 0.004; // the scale at the edges of the picture is larger by this share
const unlike = 0.006; // cups differ by this share of their mass

/** Places of the rim in the pictures, from the release until the cups have left the picture. */
function fall(n) {
  let m = 0;
  for (let i = 0; i < n; i++) m += m_1 * (1 + unlike * random.normal());
  const K = 0.5 * rho * C * (1 + c_n * (n - 1)) * A;
  const phase = 2 * Math.PI * random.uniform();
  const wind = draught * random.normal();
  const h = 2e-4;
  const first = Math.floor(random.uniform() / 60 / h);
  const places = [];
  let [x, v] = [-within(1.3, 0.02), 0];
  for (let step = 0; x < 1.2; step++) {
    if (step % 83 === first % 83 && x > -0.02) {
      const seen = x + bulge * (x - 0.6) * ((x - 0.6) / 0.6) ** 2 + 0.0015 * random.normal();
      places.push({ t: step * h, y: Math.round(seen / 0.0025) * 0.0025 });
    }
    const air = v - wind;
    const drag = K * (1 + rocking * Math.sin(14 * step * h + phase)) * (air * Math.abs(air) + v_c * air);
    v += (h * (m * g - drag)) / (m + rho * V_a);
    x += h * v;
  }
  const from = places[0]?.t ?? 0;
  return places.map(({ t, y }) => ({ t: t - from, y }));
}

/** Three runs side by side; the shorter ones leave their cells empty. */
function sideBySide(runs, separator, cells) {
  const rows = Math.max(...runs.map((run) => run.length));
  return Array.from({ length: rows }, (_, i) =>
    runs.map((run) => (i < run.length ? cells(run[i]).join(separator) : separator)).join(separator),
  );
}

const withComma = (text) => text.replace('.', ',');
const write = (name, lines, end = '\n') =>
  writeFileSync(new URL(name, trials), Buffer.from(lines.join(end) + end, 'utf8'));
const three = (cells, separator) => [cells, cells, cells].join(separator);
const inMetres = ({ t, y }) => [t.toFixed(4), y.toFixed(4)];
const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';

const names = new Map([
  [1, 'one'],
  [2, 'two'],
  [3, 'three'],
  [4, 'four'],
  [6, 'six'],
  [8, 'eight'],
]);
for (const [n, name] of names) {
  const runs = [fall(n), fall(n), fall(n)];
  if (n === 4) {
    // Semicolon, decimal comma, centimetres, German headings, line ends of two characters.
    write(
      'four.txt',
      [
        `\uFEFF${notMeasured}`,
        'vier Becher',
        '',
        three('Zeit (s);Weg (cm)', ';'),
        ...sideBySide(runs, ';', ({ t, y }) => [t.toFixed(4), (100 * y).toFixed(2)].map(withComma)),
      ],
      '\r\n',
    );
  } else if (n === 8) {
    // Tabs, units in a second heading row.
    write('eight.tsv', [
      `# ${notMeasured}`,
      three('t\ty', '\t'),
      three('[s]\t[m]', '\t'),
      ...sideBySide(runs, '\t', inMetres),
    ]);
  } else {
    write(`${name}.csv`, [
      notMeasured,
      `cups: ${n}`,
      'run 1,,run 2,,run 3,',
      three('t (s),y (m)', ','),
      ...sideBySide(runs, ',', inMetres),
    ]);
  }
}
