// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/loud-tube/invent/invent.mjs
//
// It stands alone, with influences that lab.yaml knows nothing of: the fork hides a part of the mouth, the ruler is a
// little too long, and the air grows warmer in the course of the runs. The same files come out each time.
import { writeFileSync } from 'node:fs';

/** Lehmer's generator with Park and Miller's multiplier of 1993: 48271 modulo 2^31 - 1. */
let state = 40961;
function uniform() {
  state = (state * 48271) % 2147483647;
  return state / 2147483647;
}
function normal() {
  let sum = -6;
  for (let i = 0; i < 12; i++) sum += uniform();
  return sum;
}

const hidden = 0.0003; // m, what the fork over the mouth adds
const rulerScale = 0.9995;
const warming = 0.02; // K a run
const radius = 0.018 + 0.0001 * normal();
const mouth = 0.6133 * radius + hidden;
const vapour = 0.018 + 0.003 * normal();
const molar = 0.028965 * (1 - vapour) + 0.018015 * vapour;
let kelvin = 294.4 + 0.4 * (2 * uniform() - 1);

for (const [name, stamped] of [
  ['426', 426.6],
  ['512', 512],
]) {
  const f = stamped + 0.25 * normal();
  const runs = Array.from({ length: 4 }, () => {
    kelvin += warming;
    const free = Math.sqrt((1.4 * (1 - 0.057 * vapour) * 8.314463 * kelvin) / molar);
    const layer = Math.sqrt(1.52e-5 / (Math.PI * f)); // m, where the air lags behind
    const c = free * (1 - (layer * (1 + 0.4 / Math.sqrt(0.71))) / (2 * radius));
    return [1, 3, 5].map((q) =>
      Math.round(1000 * (rulerScale * ((q * c) / (4 * f) - mouth) + 0.002 * normal())),
    );
  });
  const lines = [
    'INVENTED FOR THE DEMO - these readings were computed, not measured',
    `fork of ${stamped} Hz`,
    'run 1,,run 2,,run 3,,run 4,',
    Array(4).fill('quarters,length (mm)').join(','),
    ...[0, 1, 2].map((i) => runs.map((run) => `${2 * i + 1},${run[i]}`).join(',')),
  ];
  writeFileSync(new URL(`../trials/tube-${name}.csv`, import.meta.url), `${lines.join('\n')}\n`);
}
