import { describe, expect, it } from 'vitest';
import type { Problem } from '../../src/problem/index.ts';
import { change, problemsOf, SLOPE_LAB, sentencesOn, warningsOn } from './slope-lab.ts';

type Change = readonly [string, string];

/** What stands there, what stands there instead, and what the developer of the lab reads. */
type Case = readonly [what: string, changes: readonly Change[], sentences: readonly string[]];

function told(cases: readonly Case[]): void {
  it.each(cases)('%s', (_, changes, sentences) => {
    const text = change(SLOPE_LAB, ...changes);
    expect(sentencesOn(text)).toEqual(sentences);
    for (const found of problemsOf(text)) expectAtItsWord(text, found);
  });
}

/** Where a message begins with something quoted that stands in the line, it must stand right at the place. */
function expectAtItsWord(text: string, { message, place: { line = 0, column = 0 } }: Problem): void {
  const quoted = /^"([^"]+)"/.exec(message)?.[1];
  const written = text.split('\n')[line - 1] ?? '';
  if (quoted === undefined || !written.includes(quoted)) return;
  const here = written.slice(column - 1);
  // Of a setting that is wrong the message names the key and the place is that of the value.
  if (!here.startsWith(quoted)) expect(written.slice(0, column - 1)).toMatch(new RegExp(`${quoted}: *$`));
}

it('the lab that is spoilt below is good as it stands', () => {
  expect(warningsOn(SLOPE_LAB)).toEqual([]);
});

describe('keys', () => {
  told([
    [
      'an unknown section, with the nearest known one',
      [['effects:', 'efects:']],
      ['lab.yaml:10:1  "efects" is not a key here. Did you mean "effects"?'],
    ],
    [
      'an unknown key of a quantity, letters swapped',
      [['value: 250 g', 'valeu: 250 g']],
      ['lab.yaml:6:37  "valeu" is not a key in "m". Did you mean "value"?'],
    ],
    [
      'an unknown key of the model',
      [['  stops:', '  stop:']],
      ['lab.yaml:20:3  "stop" is not a key in "model". Did you mean "stops"?'],
    ],
    [
      'an unknown key of an effect',
      [['air: { off:', 'air: { of:']],
      [
        'lab.yaml:12:8  "air" has no "off"; a map of keys and values must stand there.',
        'lab.yaml:12:10  "of" is not a key in "air". Did you mean "off"?',
      ],
    ],
    [
      'an unknown key of a derivation line',
      [['because: the weight', 'becuase: the weight']],
      ['lab.yaml:22:39  "becuase" is not a key in "derivation, entry 1". Did you mean "because"?'],
    ],
    [
      'an unknown setting of an instrument',
      [['resolution: 1 mm', 'resolutoin: 1 mm']],
      ['lab.yaml:24:48  "resolutoin" is not a setting of a sampled instrument. Did you mean "resolution"?'],
    ],
    [
      'an unknown part of the reduction',
      [['  each run:', '  each runs:']],
      ['lab.yaml:26:3  "each runs" is not a key in "reduction". Did you mean "each run"?'],
    ],
    [
      'an unknown setting of a step',
      [['slope: a', 'slope: a, intercpt: b']],
      ['lab.yaml:28:48  "intercpt" is not a setting of "line". Did you mean "intercept"?'],
    ],
    [
      'an unknown key of a result',
      [['theory: g', 'thoery: g']],
      ['lab.yaml:30:21  "thoery" is not a key in "a". Did you mean "theory"?'],
    ],
    [
      'an unknown key of the plan',
      [['repeats: 3', 'repeat: 3']],
      ['lab.yaml:31:9  "repeat" is not a key in "plan". Did you mean "repeats"?'],
    ],
    [
      'an unknown key of a trial',
      [['plan:', 'trials:\n  - { fil: a.csv, reads: { ranger: x } }\nplan:']],
      [
        'lab.yaml:32:5  "trials, entry 1" has no "file"; a text must stand there.',
        'lab.yaml:32:7  "fil" is not a key in "trials, entry 1". Did you mean "file"?',
      ],
    ],
    [
      'an unknown key near to none, with all that may stand there',
      [['repeats: 3', 'seed: 3']],
      ['lab.yaml:31:9  "seed" is not a key in "plan". Keys that may stand there: settings, repeats.'],
    ],
    [
      'a name that every object of the language has is a name like any other',
      [['    x: v\n', '    x: v\n    constructor: v\n']],
      ['lab.yaml:19:5  constructor has a rate but no start value. Add "constructor" to "start".'],
    ],
    [
      'the same in the start values',
      [['start: { x', 'start: { toString: 0 m, x']],
      ['lab.yaml:16:12  toString has a start value but no rate of change. Add "toString" to "rates".'],
    ],
  ]);
});

describe('quantities', () => {
  told([
    [
      'a value without its unit, where the uncertainty shows that it needs one',
      [['value: 250 g', 'value: 250']],
      [
        'lab.yaml:6:44  The value of m has no unit, but its "reading" is in g. Write the unit behind the value.',
      ],
    ],
    [
      'an uncertainty without its unit',
      [['u: 2 mN', 'u: 2']],
      ['lab.yaml:7:53  "u" of F_r is 2, without a unit. Its value is in mN: "2 mN"?'],
    ],
    [
      'an uncertainty of another dimension',
      [['u: 2 mN', 'u: 2 mm']],
      [
        'lab.yaml:7:53  "u" of F_r has the dimension of length (m), its value has the dimension of force (kg·m/s²). Write it in mN or another unit of that dimension.',
      ],
    ],
    [
      'a negative uncertainty',
      [['u: 2 mN', 'u: -2 mN']],
      ['lab.yaml:7:53  "u" of F_r is -2 mN; an uncertainty is above 0. Leave it out where none is known.'],
    ],
    [
      'an unknown unit, at the unit',
      [['value: 250 g', 'value: 250 gram']],
      ['lab.yaml:6:48  "gram" is not a unit known here. Write g.'],
    ],
    [
      'a symbol without a value',
      [['value: 250 g, reading: 1 g', 'from: the scale']],
      [
        'lab.yaml:6:3  m has no value. Give a value with its unit ("value: 1.2 m"), repeated readings ("observed: […]"), a place ("at: …") or an expression ("equals: …").',
      ],
    ],
    [
      'a symbol with two values',
      [['value: 250 g', 'value: 250 g, equals: w/g']],
      ['lab.yaml:6:3  m has "value" and "equals"; exactly one of them can say what it is.'],
    ],
    [
      'a symbol with nothing at all',
      [['{ is: mass of the trolley, value: 250 g, reading: 1 g }', '']],
      ['lab.yaml:6:3  "m" is empty; a map of keys and values must stand there.'],
    ],
    [
      'a quantity defined through itself',
      [['equals: m*g', 'equals: m*w']],
      ['lab.yaml:9:3  w is defined through itself: w → w. Give one of them a value.'],
    ],
    [
      'a circle of three',
      [['equals: m*g, unit: N }', 'equals: p*m, unit: N }\n  q: { equals: w/m }\n  p: { equals: q }']],
      ['lab.yaml:9:3  w is defined through itself: w → p → q → w. Give one of them a value.'],
    ],
    [
      'a computed quantity with an uncertainty of its own',
      [['equals: m*g, unit: N', 'equals: m*g, unit: N, u: 1 mN']],
      [
        'lab.yaml:9:61  w is computed, so its uncertainty comes from the quantities in "equals"; "u" cannot stand here. Give it to the quantity that is uncertain.',
      ],
    ],
    [
      'degrees of freedom of nothing',
      [['reading: 1 g', 'reading: 1 g, dof: 9']],
      ['lab.yaml:6:65  m has "dof" but no "u" that it belongs to.'],
    ],
    [
      'a unit to print in, of another dimension',
      [['unit: N }', 'unit: kg }']],
      [
        'lab.yaml:9:58  w has the dimension of force (kg·m/s²), and "kg" has the dimension of mass (kg). Give a unit of the same dimension.',
      ],
    ],
    [
      'a number that is none',
      [['value: 250 g', 'value: .nan']],
      [
        'lab.yaml:6:44  "value" is not a finite number; a number with its unit, a plain number or an expression must stand there.',
      ],
    ],
    [
      'a number beyond all numbers',
      [['value: 250 g', 'value: 1e999 g']],
      ['lab.yaml:6:44  1e999 is larger than a computer number can be (about 1.8e308).'],
    ],
    [
      'a computed quantity that divides by zero, with what it was computed from',
      [['equals: m*g, unit: N', 'equals: m*g/(1 - 1), unit: N']],
      [
        'lab.yaml:9:47  w = m*g/(1 - 1) comes out as Infinity, not as a finite number, with g = 9.81, m = 0.25 in SI units.',
      ],
    ],
    [
      'a latitude that is not on the Earth',
      [['value: 9.81 m/s^2, u: 0.01 m/s^2', 'at: { latitude: 95 degree }']],
      ['lab.yaml:4:47  The latitude 95 degree is not on the Earth; it lies between −90 and 90 degrees.'],
    ],
    [
      'sizes beyond all labs, which would leave the range of numbers further on',
      [
        ['value: 250 g', 'value: 1e200 g'],
        ['u: 2 mN', 'u: 1e-200 mN'],
      ],
      [
        'lab.yaml:6:44  The value of m is 1e200 g; in SI units it must be 0 or lie between 1e-100 and 1e100.',
        'lab.yaml:7:53  "u" of F_r is 1e-200 mN; in SI units it must be 0 or lie between 1e-100 and 1e100.',
      ],
    ],
    [
      'a height that is not on the Earth',
      [['value: 9.81 m/s^2, u: 0.01 m/s^2', 'at: { latitude: 5 degree, height: 400 km }']],
      ['lab.yaml:4:65  The height 400 km is not on the Earth; it lies between -12000 m and 50000 m.'],
    ],
    [
      'a symbol that is a function',
      [['  w:     {', '  exp:   { value: 1 }\n  w:     {']],
      ['lab.yaml:9:3  "exp" already means a function; choose another symbol, such as exp_1.'],
    ],
    [
      'a symbol that is none',
      [['  w:     {', '  2nd:   { value: 1 }\n  w:     {']],
      [
        'lab.yaml:9:3  "2nd" cannot be a symbol: a symbol is a letter followed by letters, digits or underscores, such as m_c or θ₀.',
      ],
    ],
    [
      'correlations that cannot all be true',
      [
        [
          'effects:',
          'correlations: [{ between: [g, m], is: -0.9 }, { between: [g, c], is: -0.9 }, { between: [m, c], is: -0.9 }]\neffects:',
        ],
      ],
      [
        'lab.yaml:10:1  These correlations cannot all be true at once: the matrix of them is not positive semidefinite. Three quantities cannot each be strongly opposed to both others, for example.',
      ],
    ],
    [
      'correlations of nothing, of a computed quantity, with itself, and twice',
      [
        [
          'effects:',
          'correlations:\n  - { between: [g, q], is: 0.5 }\n  - { between: [g, w], is: 0.5 }\n  - { between: [m, m], is: 0.5 }\n  - { between: [m, g], is: 0.5 }\n  - { between: [g, m], is: 0.4 }\neffects:',
        ],
      ],
      [
        'lab.yaml:11:20  "q" is not a quantity of this lab. Did you mean "g"?',
        'lab.yaml:12:20  w is computed; a correlation stands between given quantities.',
        'lab.yaml:13:5  m cannot be correlated with itself.',
        'lab.yaml:15:5  The correlation between g and m is given a second time.',
      ],
    ],
  ]);
});

describe('effects', () => {
  told([
    [
      'an effect that is off already',
      [['F_r: 0 N', 'F_r: 0.010 N']],
      [
        'lab.yaml:11:3  The effect "rolling resistance" changes nothing: F_r = 10 mN is already the value. An effect names the values that switch it off.',
      ],
    ],
    [
      'an effect without any quantity',
      [['{ F_r: 0 N }', '{}']],
      [
        'lab.yaml:11:3  The effect "rolling resistance" changes nothing: it sets no quantity. An effect names the values that switch it off.',
      ],
    ],
    [
      'an effect whose quantity no expression reads',
      [[' - c*v^2', '']],
      [
        'lab.yaml:12:3  The effect "air" changes nothing: neither the model nor an instrument nor the reduction reads c. Let the rates, or what an instrument looks at, depend on c.',
      ],
    ],
    [
      'the same where a computed quantity and a helper read it, which nothing reads in turn',
      [
        [' - c*v^2', ''],
        ['effects:', '  k_a: { equals: c/m }\neffects:'],
        ['where:', 'where:\n  drag: k_a*v^2'],
      ],
      [
        'lab.yaml:13:3  The effect "air" changes nothing: neither the model nor an instrument nor the reduction reads c. Let the rates, or what an instrument looks at, depend on c.',
      ],
    ],
    [
      'an effect of a computed quantity',
      [['off: { c: 0 kg/m }', 'off: { w: 0 N }']],
      [
        'lab.yaml:12:17  w is computed from "m*g" and cannot be set by "off". Set one of the quantities it is computed from.',
      ],
    ],
    [
      'an effect without the unit of its quantity',
      [['c: 0 kg/m }', 'c: 0 }']],
      [
        'lab.yaml:12:20  c is set to "0", which is dimensionless; c has the dimension of mass per length (kg/m). Is its unit missing? c is given in kg/m.',
      ],
    ],
    [
      'two effects that contend for one quantity',
      [['air: { off: { c: 0 kg/m } }', 'air: { off: { c: 0 kg/m } }\n  much air: { off: { c: 1e-3 kg/m } }']],
      [
        'lab.yaml:13:22  The effects "air" and "much air" are switched off by different values of c, so both cannot be off at once. Give each effect a quantity of its own.',
      ],
    ],
  ]);

  it('a quantity that an instrument or a step reads is read', () => {
    const text = change(
      SLOPE_LAB,
      [' - c*v^2', ''],
      ['effects:', '  tau: { value: 20 ms, u: 5 ms }\neffects:'],
      ['air: { off: { c: 0 kg/m } }', 'lag: { off: { tau: 0 s } }'],
      ['resolution: 1 mm', 'lag: tau'],
    );
    expect(warningsOn(text)).toEqual([]);
    const inStep = change(text, ['lag: tau', 'resolution: 1 mm'], ['of: 2*s,', 'of: 2*s - tau*(1 m/s),']);
    expect(sentencesOn(inStep)).toEqual([expect.stringContaining('Make')]);
  });

  it('one idle quantity beside one that acts is a warning', () => {
    const text = change(
      SLOPE_LAB,
      [' - c*v^2', ''],
      ['air: { off: { c: 0 kg/m } }', ''],
      ['{ F_r: 0 N }', '{ F_r: 0 N, c: 0 kg/m }'],
    );
    expect(warningsOn(text)).toEqual([
      'lab.yaml:11:3  The effect "rolling resistance" sets c, which neither the model nor an instrument nor the reduction reads.',
    ]);
  });
});

describe('the model', () => {
  told([
    [
      'a rate of the wrong dimension, with both and what may be missing',
      [[')/m\n', ')\n']],
      [
        'lab.yaml:19:9  "pull - dry(F_r, v) - c*v^2" has the dimension of force (kg·m/s²); the rate of v must have the dimension of acceleration (m/s²). Divide by a mass (kg)?',
      ],
    ],
    [
      'a start value without its unit',
      [['x: 0 m, v', 'x: 1, v']],
      [
        'lab.yaml:18:8  "v" has the dimension of speed (m/s); the rate of x must have the dimension of frequency or angular velocity (1/s). Divide by a length (m)?',
        'lab.yaml:20:38  "1.0 m" has the dimension of length (m), "x" is dimensionless; the sides of a comparison must be alike. If m is meant as the symbol, multiply by it with *.',
      ],
    ],
    [
      'a model that never stops',
      [['  stops: { the end of the track: x > 1.0 m }\n', '']],
      [
        'lab.yaml:15:1  The model never stops: it has neither "stops" nor "lasts". Add a condition that ends the motion, or the time it lasts.',
      ],
    ],
    [
      'a stop that compares a length with a time',
      [['x > 1.0 m', 'x > 1.0 s']],
      [
        'lab.yaml:20:38  "1.0 s" has the dimension of time (s), "x" has the dimension of length (m); the sides of a comparison must be alike.',
      ],
    ],
    [
      'a stop that is no condition',
      [['x > 1.0 m', 'x']],
      ['lab.yaml:20:34  "x" is a value; a condition would be right here, such as x > 0.20 m.'],
    ],
    [
      'a duration that is none',
      [['  stops:', '  lasts: 20 m\n  stops:']],
      [
        'lab.yaml:20:10  "20 m" has the dimension of length (m); the time that the model lasts must have the dimension of time (s). Divide by a speed (m/s)?',
      ],
    ],
    [
      'a state that is also a quantity',
      [['    x: v\n', '    x: v\n    g: v\n']],
      [
        'lab.yaml:19:5  g is a state and also a quantity; give one of them another symbol.',
        'lab.yaml:19:5  g has a rate but no start value. Add "g" to "start".',
      ],
    ],
    [
      'an unknown symbol, with those that are known',
      [['pull: w*sin(alpha)', 'pull: w*sin(beta)']],
      [
        'lab.yaml:14:15  "beta" is not a symbol here. The symbols here are g, alpha, m, F_r, c, w, x, v, t and pull.',
      ],
    ],
    [
      'an expression that a comma cuts in two, because it stands between { and } without quotes',
      [['{ the end of the track: x > 1.0 m }', '{ the end of the track: x > max(1.0 m, 0.9 m) }']],
      [
        'lab.yaml:20:34  "x > max(1.0 m" ends at a comma: between { and }, or [ and ], a comma goes on to the next entry. Put the whole text in quotes.',
      ],
    ],
    [
      'a relation that is also a motion',
      [['  start:', '  relation: "y = 2*g"\n  start:']],
      [
        'lab.yaml:17:3  "start" belongs to a model that evolves in time, and this model is a relation. Keep either "relation" or "rates".',
        'lab.yaml:18:3  "rates" belongs to a model that evolves in time, and this model is a relation. Keep either "relation" or "rates".',
        'lab.yaml:21:3  "stops" belongs to a model that evolves in time, and this model is a relation. Keep either "relation" or "rates".',
      ],
    ],
    [
      'helpers that need each other',
      [['pull: w*sin(alpha)', 'pull: 2*push\n  push: pull/2']],
      [expect.stringMatching(/^lab\.yaml:1[45]:\d+ {2}.*(circle|itself)/)],
    ],
  ]);
});

describe('derivation, instruments, reduction, results', () => {
  told([
    [
      'a line whose sides differ in dimension',
      [['"v^2 = 2', '"v = 2']],
      [
        'lab.yaml:22:18  The left side has the dimension of speed (m/s), the right side has the dimension of speed squared (m²/s²); the sides of an equation must be alike.',
      ],
    ],
    [
      'a line that is no equation',
      [['v^2 = 2*g*sin(alpha)*x', 'v^2']],
      ['lab.yaml:22:14  The equation has no "="; it needs one, between its two sides.'],
    ],
    [
      'a bracket that is never closed, at the bracket',
      [['sin(alpha)*x"', 'sin(alpha*x"']],
      ['lab.yaml:22:27  The bracket that opens here is never closed.'],
    ],
    [
      'a kind of instrument that is none, and nothing more of it',
      [['kind: sampled', 'kind: samplde']],
      ['lab.yaml:24:19  "samplde" is not a kind of instrument. Did you mean "sampled"?'],
    ],
    [
      'a setting of the wrong dimension',
      [['resolution: 1 mm', 'resolution: 1 ms']],
      [
        'lab.yaml:24:60  "1 ms" has the dimension of time (s); "resolution" must have the dimension of length (m).',
      ],
    ],
    [
      'a setting out of its range',
      [['rate: 50 Hz', 'rate: 0 Hz']],
      ['lab.yaml:24:41  "rate" is 0 Hz; it must be above 0.'],
    ],
    [
      'an instrument that looks at the wrong thing',
      [['kind: sampled, of: x, rate: 50 Hz, resolution: 1 mm', 'kind: gates, of: v, at: [0.5 m]']],
      [
        expect.stringContaining(
          'lab.yaml:24:30  "of" of "ranger" has the dimension of speed (m/s); a gates instrument looks at what has the dimension of length (m).',
        ),
      ],
    ],
    [
      'a step that is none',
      [['- line:', '- lien:']],
      ['lab.yaml:28:7  "lien" is not a step here. Did you mean "line"?'],
    ],
    [
      'two steps in one entry',
      [['    - line:', '      line:']],
      ['lab.yaml:27:7  A step is one name with its settings; "readings" and "line" stands here.'],
    ],
    [
      'readings of an instrument that is not there',
      [['of: ranger', 'of: rangr']],
      ['lab.yaml:27:23  "rangr" is not an instrument of this lab. Did you mean "ranger"?'],
    ],
    [
      'a column that is not there, with those that are',
      [['of: 2*s', 'of: 2*z']],
      ['lab.yaml:28:21  "z" is not a symbol here. The symbols here are t, s, g, alpha, m, F_r, c and w.'],
    ],
    [
      'a result that no step gives',
      [['  a: { unit', '  acc: { unit']],
      ['lab.yaml:30:3  No step of the reduction gives "acc". It gives a.'],
    ],
    [
      'a result in a unit of another dimension',
      [['unit: m/s^2, theory', 'unit: m/s, theory']],
      [
        'lab.yaml:30:14  The unit "m/s" has the dimension of speed (m/s); a as the reduction gives it has the dimension of acceleration (m/s²).',
      ],
    ],
    [
      'a theory of another dimension',
      [['theory: g', 'theory: m*g']],
      [
        'lab.yaml:30:29  "m*g*sin(alpha)" has the dimension of force (kg·m/s²); the theory of a must have the dimension of acceleration (m/s²). Divide by a mass (kg)?',
      ],
    ],
    [
      'a plan that sets what is computed, what is not there, and without a unit',
      [['repeats: 3', 'settings: { w: [1 N], mm: [1 g], m: [300, 1 N] }']],
      [
        'lab.yaml:31:21  w is computed from "m*g" and cannot be set by "plan". Set one of the quantities it is computed from.',
        'lab.yaml:31:31  "mm" is not a quantity of this lab. Did you mean "m"?',
        'lab.yaml:31:46  m is set to "300", which is dimensionless; m has the dimension of mass (kg). Is its unit missing? m is given in g.',
        'lab.yaml:31:51  m is set to "1 N", which has the dimension of force (kg·m/s²); m has the dimension of mass (kg).',
      ],
    ],
    [
      'a trial outside the lab, of no instrument, under a computed condition',
      [
        [
          'plan:',
          'trials:\n  - { file: ../a.csv, reads: { ranger: x } }\n  - { file: b.csv, reads: { rangr: x } }\n  - { file: c.csv, reads: { ranger: { t: t, vlaue: x } }, when: { w: 2 N } }\nplan:',
        ],
      ],
      [
        'lab.yaml:32:13  "../a.csv" lies outside the lab folder; trial files stand inside it. Copy the file into trials/.',
        'lab.yaml:33:29  "rangr" is not an instrument of this lab. Did you mean "ranger"?',
        'lab.yaml:34:45  "vlaue" is not a column of the readings of "ranger". They are t, value.',
        'lab.yaml:34:67  w is computed from "m*g" and cannot be set by "when". Set one of the quantities it is computed from.',
      ],
    ],
    [
      'what cannot be inferred, and from what it cannot',
      [['plan:', 'infer: { free: [w, F_q], using: [k] }\nplan:']],
      [
        'lab.yaml:31:17  w is computed and cannot be free; free one of the quantities it is computed from.',
        'lab.yaml:31:20  "F_q" is not a quantity of this lab. Did you mean "F_r"?',
        'lab.yaml:31:34  No step of "each run" gives "k". Did you mean "a"?',
      ],
    ],
  ]);
});

describe('two problems give two messages, wherever they stand', () => {
  const faults: readonly (readonly [name: string, change: Change, line: number])[] = [
    ['an unknown section', ['plan:', 'paln:'], 31],
    ['an unknown unit', ['u: 2 mN', 'u: 2 mQ'], 7],
    ['a circular definition', ['equals: m*g', 'equals: m*w'], 9],
    ['an effect of nothing', ['{ c: 0 kg/m }', '{ d: 0 kg/m }'], 12],
    ['a stop of another dimension', ['x > 1.0 m', 'x > 1.0 s'], 20],
    ['a false line', ['"v^2 = 2', '"v = 2'], 22],
    ['a setting of another dimension', ['resolution: 1 mm', 'resolution: 1 ms'], 24],
    ['a column that is not there', ['of: 2*s', 'of: 2*zz'], 28],
    ['an unknown unit of a result', ['unit: m/s^2, theory', 'unit: zz, theory'], 30],
  ];
  const pairs = faults.flatMap((one, index) => faults.slice(index + 1).map((other) => [one, other] as const));
  it.each(pairs.map(([one, other]) => [one[0], other[0], one, other] as const))(
    '%s and %s',
    (_, __, one, other) => {
      const places = problemsOf(change(SLOPE_LAB, one[1], other[1])).map(({ place }) => place.line);
      expect(places).toEqual([one[2], other[2]].sort((a, b) => a - b));
    },
  );

  it('and all nine give nine', () => {
    const text = change(SLOPE_LAB, ...faults.map((fault) => fault[1]));
    expect(problemsOf(text).map(({ place }) => place.line)).toEqual(
      faults.map((fault) => fault[2]).sort((a, b) => a - b),
    );
  });

  it('what rests on a faulty quantity is not told again', () => {
    const text = change(SLOPE_LAB, ['value: 250 g', 'value: 250 gg'], ['value: 6 degree', 'value: 6 degre']);
    expect(problemsOf(text).map(({ place }) => place.line)).toEqual([5, 6]);
  });
});
