// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/thick-lens/invent/invent.mjs
//
// It stands alone: rays are followed through both faces by the law of refraction, so that thickness and the faults of a
// wide beam come by themselves and not by the formulae of lab.yaml. What that file knows nothing of: the faces are not
// curved quite alike, the rule is a little long, and the eye takes a
// screen a little too near for sharp. The same files come out each time.
import { writeFileSync } from 'node:fs';

/** Lehmer's generator with Park and Miller's multiplier of 1993: 48271 modulo 2^31 - 1. */
let state = 51907;
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

// What lab.yaml states with uncertainty has one true value, somewhere inside it. Lengths in millimetres.
const radius = 103.4 + 0.2 * normal();
const index = 1.5168 - 0.0024 + 0.0004 * normal();
const thickness = 12 + 0.06 * normal();
const markOff = 0.8 + 0.12 * normal();

// What the lab does not know of.
const unlike = 0.4; // mm, by which one radius is larger and the other smaller
const ruleLong = 1 + 3e-4;
const tooNear = 0.15; // mm

/** A ray through a sphere about the axis: where it meets it, and the way it goes on. */
function bend({ z, y, dz, dy }, centre, curve, towards, from, to) {
  const [cz, cy] = [z - centre, y];
  const along = cz * dz + cy * dy;
  const way = -along + towards * Math.sqrt(along * along - (cz * cz + cy * cy - curve * curve));
  const [hz, hy] = [z + way * dz, y + way * dy];
  // The normal against the ray.
  let [nz, ny] = [(hz - centre) / curve, hy / curve];
  if (nz * dz + ny * dy > 0) [nz, ny] = [-nz, -ny];
  const ratio = from / to;
  const cosine = -(nz * dz + ny * dy);
  const onward = ratio * cosine - Math.sqrt(1 - ratio * ratio * (1 - cosine * cosine));
  return { z: hz, y: hy, dz: ratio * dz + onward * nz, dy: ratio * dy + onward * ny };
}

/** Where, behind the middle of the lens, a ray from the axis meets the axis again; it starts towards a height. */
function meets(distance, height) {
  const length = Math.hypot(distance, height);
  const ray = { z: -distance, y: 0, dz: distance / length, dy: height / length };
  const front = bend(ray, -thickness / 2 + radius + unlike, radius + unlike, -1, 1, index);
  const back = bend(front, thickness / 2 - radius + unlike, radius - unlike, 1, index, 1);
  return back.z - (back.y * back.dz) / back.dy;
}

/** Rings of equal area; the reciprocal distances of their rays are averaged. */
function sharp(distance, stop) {
  let sum = 0;
  for (let ring = 0; ring < 40; ring++) sum += 1 / meets(distance, stop * Math.sqrt((ring + 0.5) / 40));
  return 40 / sum;
}

const toHalf = (length) => Math.round(2 * length) / 2;

/** The object is placed once; the screen is set sharp and both are read five times. */
function place(set) {
  const object = set + 2 * (2 * uniform() - 1);
  const screen = sharp(object + markOff, 10) + markOff - tooNear;
  return [1, 2, 3, 4, 5].map((number) => ({
    number,
    object: toHalf(object / ruleLong + 0.5 * normal()),
    screen: toHalf(screen / ruleLong + 0.8 * normal()),
  }));
}

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';
const twiceEach = (near, far) => [place(near), place(near), place(far), place(far)];
const rows = (trials, separator, show) =>
  trials[0].map((_, i) =>
    trials
      .map((trial) => [trial[i].number, show(trial[i].object), show(trial[i].screen)].join(separator))
      .join(separator),
  );
const write = (name, lines, end = '\n') =>
  writeFileSync(new URL(`../trials/${name}`, import.meta.url), lines.join(end) + end);
const inMillimetres = (length) => length.toFixed(1);
const heading = (words, separator) => Array(4).fill(words.join(separator)).join(separator);

// Comma, a row of run labels.
write('near.csv', [
  notMeasured,
  'object at 150 mm (runs 1 and 2) and at 180 mm (runs 3 and 4)',
  'run 1,,,run 2,,,run 3,,,run 4,,',
  heading(['number', 'object (mm)', 'screen (mm)'], ','),
  ...rows(twiceEach(150, 180), ',', inMillimetres),
]);

// Semicolon, decimal comma, centimetres, German headings, line ends of two characters.
write(
  'middle.txt',
  [
    `\uFEFF${notMeasured}`,
    'Gegenstand bei 220 mm (zweimal) und bei 280 mm (zweimal)',
    '',
    heading(['Nummer', 'Gegenstand (cm)', 'Schirm (cm)'], ';'),
    ...rows(twiceEach(220, 280), ';', (length) => (length / 10).toFixed(2).replace('.', ',')),
  ],
  '\r\n',
);

// Tabs, units in a second heading row.
write('far.tsv', [
  `# ${notMeasured}`,
  '# object at 360 mm, twice, and at 480 mm, twice',
  heading(['number', 'object', 'screen'], '\t'),
  heading(['', '[mm]', '[mm]'], '\t'),
  ...rows(twiceEach(360, 480), '\t', inMillimetres),
]);
