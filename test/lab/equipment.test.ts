import { describe, expect, it } from 'vitest';
import { createPipeline } from '../../src/lab/index.ts';
import { predict } from '../../src/run/index.ts';
import { change, labFrom, SLOPE_LAB, sentencesOf, sentencesOn, valueFrom } from './slope-lab.ts';

const WITH_KITS = `${SLOPE_LAB}kits:
  light trolley: { is: a trolley without its load, set: { m: { value: 0.1 kg, u: 0.2 g } } }
  steep track:   { set: { alpha: 12 degree }, with: [light trolley, light gates] }
  light gates:
    is: gates in place of the ranger
    instruments: { ranger: { kind: gates, of: x, at: [0.1 m, 0.3 m, 0.5 m, 0.7 m, 0.9 m], flag: 20 mm } }
    reduction:
      each run:
        - motion from gates: { of: ranger, gives: [t, s, v] }
        - line: { of: v^2/2, against: s, slope: a }
  quick ranger: { instruments: { ranger: { rate: 200 Hz } }, reduction: { each run: { line: { of: 2*s/1 } } } }
stations:
  A: { alpha: 4 degree }
  B: { alpha: 8 degree }
  drawn: { values: { alpha: { from: 3 degree, to: 9 degree, step: 0.5 degree }, m: [250 g, 500 g] }, groups: 12, seed: 4 }
  pooled:
    across stations:
      - line: { of: a, against: sin(alpha), slope: g_class }
    results: { g_class: { is: gravity by the whole class, unit: m/s^2, theory: g } }
slips:
  half the distance: { is: the way is halved, readings: { ranger: value/2 }, helps: Measure the whole way. }
  twice the slope:   { set: { alpha: 2*alpha } }
  steep by mistake:  { apparatus: { alpha: 7 degree } }
  upside down:       { reported: { a: 1/a } }
  all readings late: { readings: { ranger: { t: 1.1*t } } }
  twice the factor:  { reduction: { each run: { line: { of: s } } } }
`;

describe('kits', () => {
  it('are labs of their own: another mass with its own uncertainty, another instrument with its own steps', () => {
    const lab = labFrom(WITH_KITS);
    const predicted = (names: readonly string[]) => {
      const kits = lab.kits.filter(({ name }) => names.includes(name));
      const equipped = valueFrom(lab.equip(kits));
      const result = valueFrom(predict(createPipeline(equipped), { subset: 0 })).results[0];
      return { equipped, value: result?.predicted.value ?? Number.NaN };
    };
    const slope = (degrees: number) => 9.81 * Math.sin((degrees * Math.PI) / 180);
    // A flag of 20 mm at 0.1 m takes the mean speed over it for that in its middle: 2.5e-4 of the slope.
    expect(predicted(['light gates']).value).toBeCloseTo(slope(6), 3);
    expect(predicted(['steep track', 'light gates']).value).toBeCloseTo(slope(12), 2);
    expect(predicted(['quick ranger']).value).toBeCloseTo(slope(6), 6);
    const light = predicted(['light trolley']).equipped;
    expect(light.quantities.byName.get('m')).toMatchObject({
      estimate: { value: 0.1, standardUncertainty: 2e-4 },
    });
    expect(light.trials).toEqual([]);
  });

  it('may be combined where either of the two allows it', () => {
    const lab = labFrom(WITH_KITS);
    expect(lab.kits.map(({ name, with: others }) => [name, [...others]])).toEqual([
      ['light trolley', ['steep track']],
      ['steep track', ['light trolley', 'light gates']],
      ['light gates', ['steep track']],
      ['quick ranger', []],
    ]);
  });

  it('leave an effect nothing to do without a complaint', () => {
    const text = `${SLOPE_LAB}kits: { air track: { set: { F_r: 0 N } } }\n`;
    const lab = labFrom(text);
    expect(lab.equip(lab.kits).ok).toBe(true);
  });

  it('that break the model are told as such when they are used', () => {
    const lab = labFrom(change(`${SLOPE_LAB}kits: { nothing left: { set: { m: 0 g } } }\n`));
    const equipped = lab.equip(lab.kits);
    const told = equipped.ok ? sentencesOf(predict(createPipeline(equipped.value))) : sentencesOf(equipped);
    expect(told.length).toBeGreaterThan(0);
  });
});

type Case = readonly [what: string, from: string, to: string, sentence: string];

const bad: readonly Case[] = [
  [
    'a kit that changes nothing',
    '{ set: { alpha: 12 degree }, with: [light trolley, light gates] }',
    '{ is: steep }',
    'lab.yaml:34:3  The kit "steep track" changes nothing. Give it "set", "instruments" or "reduction".',
  ],
  [
    'a kit that sets what is no quantity',
    '{ alpha: 12 degree }',
    '{ alhpa: 12 degree }',
    'lab.yaml:34:27  "alhpa" is not a quantity of this lab. Did you mean "alpha"?',
  ],
  [
    'a kit with a value of another dimension',
    'value: 0.1 kg',
    'value: 0.1 m',
    'lab.yaml:33:71  m is set to "0.1 m", which has the dimension of length (m); m has the dimension of mass (kg).',
  ],
  [
    'a kit with an instrument that is not there',
    '{ ranger: { rate: 200 Hz } }',
    '{ rangr: { rate: 200 Hz } }',
    'lab.yaml:42:34  "rangr" is not an instrument of this lab. Did you mean "ranger"?',
  ],
  [
    'a kit with a setting of another dimension',
    'rate: 200 Hz',
    'rate: 200 m',
    'lab.yaml:42:50, kit "quick ranger"  "200 m" has the dimension of length (m); "rate" must have the dimension of frequency or angular velocity (1/s).',
  ],
  [
    'a kit with a setting that is none',
    'rate: 200 Hz',
    'rat: 200 Hz',
    'lab.yaml:42:44, kit "quick ranger"  "rat" is not a setting of a sampled instrument. Did you mean "rate"?',
  ],
  [
    'a kit that allows one that is not there',
    'with: [light trolley, light gates]',
    'with: [light troley]',
    'lab.yaml:34:54  "light troley" is not a kit of this lab. Did you mean "light trolley"?',
  ],
  [
    'two kits that may be combined and set the same',
    'set: { alpha: 12 degree }',
    'set: { m: 1 kg }',
    'lab.yaml:34:3  The kits "light trolley" and "steep track" may be combined, and both change m. Let only one of them change it, or take out "with".',
  ],
  [
    'a kit that changes a step that is not there',
    '{ line: { of: 2*s/1 } }',
    '{ lin: { of: 2*s/1 } }',
    'lab.yaml:42:87  "lin" is not a step of "each run" of this lab. Did you mean "line"?',
  ],
  [
    'a kit whose step names an unknown symbol',
    'of: 2*s/1',
    'of: 2*q',
    'lab.yaml:42:101, kit "quick ranger"  "q" is not a symbol here. The symbols here are t, s, g, alpha, m, F_r, c and w.',
  ],
  [
    'a station without values',
    'A: { alpha: 4 degree }',
    'A: { }',
    'lab.yaml:44:3  The station "A" sets no value, so it would be like the lab itself. Give it a quantity and a value, such as { L: 1.2 m }.',
  ],
  [
    'a station with nothing behind it',
    'A: { alpha: 4 degree }',
    'A:',
    'lab.yaml:44:3  "A" is empty; a map of keys and values must stand there.',
  ],
  [
    'a range that goes down',
    'from: 3 degree',
    'from: 30 degree',
    'lab.yaml:46:29  The range of alpha goes from 30 degree to 9 degree; "to" must lie above "from".',
  ],
  [
    'a pooled result in another dimension',
    'unit: m/s^2, theory: g }',
    'unit: m/s, theory: g }',
    'lab.yaml:50:65  The unit "m/s" has the dimension of speed (m/s); g_class as the reduction gives it has the dimension of acceleration (m/s²).',
  ],
  [
    'a slip of an instrument that is not there',
    'ranger: value/2',
    'rangr: value/2',
    'lab.yaml:52:59  "rangr" is not an instrument of this lab. Did you mean "ranger"?',
  ],
  [
    'a slip of a column that is not there',
    't: 1.1*t',
    'q: 1.1*t',
    'lab.yaml:56:46  "q" is not a column of the readings of "ranger". Did you mean "t"?',
  ],
  [
    'a slip that sets a value of another dimension',
    'alpha: 2*alpha',
    'alpha: 2*m',
    'lab.yaml:53:38  "2*m" has the dimension of mass (kg); alpha as set by "set" must be dimensionless. Divide by a mass (kg)?',
  ],
  [
    'a slip that sets what is computed',
    'alpha: 2*alpha',
    'w: 2 N',
    'lab.yaml:53:31  w is computed from "m*g" and cannot be set by "set". Set one of the quantities it is computed from.',
  ],
  [
    'a slip of a result that is not there',
    'reported: { a: 1/a }',
    'reported: { b: 1/a }',
    'lab.yaml:55:36  "b" is not a result of this lab. Did you mean "a"?',
  ],
  [
    'a slip that changes nothing',
    '{ reported: { a: 1/a } }',
    '{ is: nothing }',
    'lab.yaml:55:3  The slip "upside down" changes nothing. Give it "set", "apparatus", "instruments", "readings", "reduction" or "reported".',
  ],
  [
    'a slip that makes another instrument of one',
    '{ reported: { a: 1/a } }',
    '{ instruments: { ranger: { kind: gates } } }',
    'lab.yaml:55:55  "ranger" is told to be of the kind "gates"; its readings stay those of the kind "sampled". Change its settings only.',
  ],
  [
    'a slip whose step names no column',
    'each run: { line: { of: s } }',
    'each run: { line: { of: w } }',
    'lab.yaml:57:61  "w" holds no column; "of" of "line" is worked out row by row. The columns are t, s.',
  ],
];

describe('what is wrong with kits, stations and slips is told at its place', () => {
  it.each(bad)('%s', (_, from, to, sentence) => {
    expect(sentencesOn(change(WITH_KITS, [from, to]))).toEqual([sentence]);
  });

  it('more stations than any class has', () => {
    const [sentence] = sentencesOn(change(WITH_KITS, ['groups: 12', 'groups: 1e9']));
    expect(sentence).toContain('lab.yaml:46:110  "groups" is the number 1000000000');
  });
});

describe('stations and slips', () => {
  it('are read with their values', () => {
    const { stations, slips } = labFrom(WITH_KITS);
    expect(stations.listed.map(({ name, set }) => [name, set.map(({ value }) => value)])).toEqual([
      ['A', [(4 * Math.PI) / 180]],
      ['B', [(8 * Math.PI) / 180]],
    ]);
    expect(stations.drawn).toMatchObject({ groups: 12, seed: 4 });
    expect(stations.drawn?.from.map(({ kind }) => kind)).toEqual(['range', 'list']);
    expect(stations.pooled?.results.map(({ name }) => name)).toEqual(['g_class']);
    expect(slips.map(({ name }) => name)).toEqual([
      'half the distance',
      'twice the slope',
      'steep by mistake',
      'upside down',
      'all readings late',
      'twice the factor',
    ]);
    const values = Float64Array.of(9.81, 0.1, 0.25, 0.01, 0.004, 2.4);
    expect(slips[1]?.set.map(({ valueAt }) => valueAt(values))).toEqual([0.2]);
    expect(slips[3]?.reported[0]?.evaluate(Float64Array.of(4), values)).toBe(0.25);
  });
});
