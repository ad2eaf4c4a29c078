// Invents the trial files of this lab. Nothing here was measured.
//
//   node labs/tired-cells/invent/invent.mjs
//
// It stands alone, with influences that lab.yaml knows nothing of: the current is never quite what it was set to, the
// ammeter's shunt grows warm, each cell is a little different, and cells that gave much recover only in part from run
// to run. The same files come out each time.
import { writeFileSync } from 'node:fs';

/** Lehmer's generator with Park and Miller's multiplier of 1993: 48271 modulo 2^31 - 1. */
let state = 27449;
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
const ohmic = 0.55 + 0.008 * normal();
const voltmeter = 1 + 0.002 * normal();
const ammeter = 1 + 0.004 * normal();
const R_A = 1.02 + 0.008 * normal();
const R_c = 0.06 + 0.01 * normal();
const V_a = 0.012 + 0.002 * normal();
const i_0 = 0.03 + 0.005 * normal();

// What the lab does not know of.
const missed = 0.0003; // A, by which the current misses its mark
const shuntWarms = 0.3; // relative growth of the ammeter's resistance over the current squared, 1/A^2
const unlike = Array.from({ length: 4 }, () => 0.003 * normal()); // ohm, from cell to cell
const given = 0.00007; // V a cell loses for good in a run
const lost = 0.0033; // V a cell loses for a while, for each ampere of the readings before

let runs = 0;

/** The voltage across the load at each current, the smallest first. */
function load(cells) {
  const fresh = 1.58 + 0.004 * (2 * uniform() - 1) - given * runs++;
  let before = 0;
  return [40, 70, 100, 130, 160, 190].map((set) => {
    const I = (set / 1000) * ammeter + missed * normal();
    let U = -(R_A * (1 + shuntWarms * I * I) + R_c) * I;
    for (let cell = 0; cell < cells; cell++) {
      U += fresh - (ohmic + unlike[cell]) * I - V_a * Math.asinh(I / (2 * i_0)) - lost * before;
    }
    before += I;
    return { set, shown: (U * voltmeter + 0.002 * normal()).toFixed(3) };
  });
}

const notMeasured = 'INVENTED FOR THE DEMO - these readings were computed, not measured';
const rows = (trials, separator, mark) =>
  trials[0].map((_, i) =>
    trials.map((trial) => `${trial[i].set}${separator}${mark(trial[i].shown)}`).join(separator),
  );

for (const cells of [1, 2, 3, 4]) {
  const trials = [load(cells), load(cells), load(cells)];
  if (cells === 3) {
    // Semicolon, decimal comma, German headings, line ends of two characters.
    const lines = [
      `\uFEFF${notMeasured}`,
      'drei Zellen',
      '',
      Array(3).fill('Strom (mA);Spannung (V)').join(';'),
      ...rows(trials, ';', (text) => text.replace('.', ',')),
    ];
    writeFileSync(new URL('../trials/cells-3.txt', import.meta.url), `${lines.join('\r\n')}\r\n`);
    continue;
  }
  const lines = [
    notMeasured,
    `cells in series: ${cells}`,
    'run 1,,run 2,,run 3,',
    Array(3).fill('current (mA),voltage (V)').join(','),
    ...rows(trials, ',', (text) => text),
  ];
  writeFileSync(new URL(`../trials/cells-${cells}.csv`, import.meta.url), `${lines.join('\n')}\n`);
}
