import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  combineKits,
  createGauge,
  judge,
  LIMITS,
  readCondition,
  readMeasure,
  readVariation,
  surveyKits,
} from '../../src/adapt/index.ts';
import { createPipeline, readLab } from '../../src/lab/index.ts';
import { reconcile } from '../../src/reconcile/index.ts';
import { allEffects, predict } from '../../src/run/index.ts';
import { pipelineFrom, SLOPE_LAB, sentencesOf, valueFrom } from '../lab/slope-lab.ts';

const tow = createPipeline(valueFrom(readLab(readFileSync('labs/tow-chain/lab.yaml', 'utf8'), 'lab.yaml')));

describe('sets of equipment', () => {
  const kits = `${SLOPE_LAB}kits:
  a: { set: { m: 300 g }, with: [b, c] }
  b: { set: { alpha: 5 degree }, with: [c] }
  c: { set: { F_r: 5 mN } }
  d: { set: { c: 1e-3 kg/m } }
`;

  it('are the lab as given, each kit, and every set in which each allows each other', () => {
    const { lab } = pipelineFrom(kits);
    const names = combineKits(lab.kits).map((set) => set.map(({ name }) => name).join('+'));
    expect(names).toEqual(['', 'a', 'b', 'c', 'd', 'a+b', 'a+c', 'b+c', 'a+b+c']);
  });

  it('have shares that add up to the gap, as those of the ledger', () => {
    const own = valueFrom(surveyKits(tow, [[]], { rehearsals: 4 }))[0]?.outlook;
    const ledger = valueFrom(reconcile(tow, [])).ledgers.find(({ group }) => group === 'L = 1.2 m');
    const k2 = own?.results[0];
    expect(k2?.full).toBeCloseTo(ledger?.full.value ?? 0, 9);
    expect(Array.from(k2?.shares ?? []).reduce((sum, share) => sum + share, 0)).toBeCloseTo(
      (k2?.full ?? 0) - (k2?.ideal ?? 0),
      9,
    );
    ledger?.effects.forEach(({ share }, index) => {
      expect(k2?.shares[index]).toBeCloseTo(share, 7);
    });
  });

  it('give what predict gives with the same values set', () => {
    const [kit] = tow.lab.kits;
    if (kit === undefined) throw new Error('no kit');
    const [survey] = valueFrom(surveyKits(tow, [[kit]], { rehearsals: 4 }));
    const predicted = valueFrom(predict(tow, { settings: kit.set, subset: allEffects(tow.lab) }));
    expect(survey?.outlook?.results[0]?.full).toBeCloseTo(
      predicted.results[0]?.predicted.value ?? Number.NaN,
      9,
    );
  });

  it('that break the model will disappoint, and the reason is the model’s own; the others are not held up', () => {
    const pipeline = pipelineFrom(`${SLOPE_LAB}kits:
  stuck: { is: a track that hardly slopes, set: { alpha: 0.01 degree } }
  good:  { set: { m: 300 g } }
`);
    const survey = valueFrom(surveyKits(pipeline, combineKits(pipeline.lab.kits), { rehearsals: 6 }));
    expect(survey.map(({ judgement }) => judgement.verdict)).toEqual([
      'works well',
      'will disappoint',
      'works well',
    ]);
    const [reason] = survey[1]?.judgement.reasons ?? [];
    expect(reason?.kind).toBe('cannot run');
    expect(survey[1]?.problems[0]?.message).toContain('Nothing moves at the start');
  });
});

describe('the judgement', () => {
  const [result] = tow.lab.results;
  if (result === undefined) throw new Error('no result');
  const good = {
    result,
    full: 1,
    theory: 1.02,
    spread: 0.01,
    failing: null,
    readings: 30,
    endsEarly: null,
    newHazards: [],
  };

  it('is good where nothing passes a limit', () => {
    expect(judge(good)).toEqual({ verdict: 'works well', reasons: [] });
  });

  it('follows the gravest reason, which stands first', () => {
    expect(judge({ ...good, spread: LIMITS.scatter.care * 1.5 }).verdict).toBe('works with care');
    const bad = judge({ ...good, spread: 0.05, readings: 3 });
    expect(bad.verdict).toBe('will disappoint');
    expect(bad.reasons.map(({ kind }) => kind)).toEqual(['few readings', 'scatter']);
    expect(judge({ ...good, full: 0.6 }).reasons[0]).toMatchObject({ kind: 'gap' });
    expect(judge({ ...good, endsEarly: { name: 'taut', share: 0.4 } }).verdict).toBe('works with care');
    expect(judge({ ...good, newHazards: [{ kind: 'fast', size: 3 }] }).verdict).toBe('works with care');
  });
});

describe('what is asked wrongly is answered in a sentence', () => {
  const { lab } = tow;

  it.each([
    ['gap(k3) < 2 %', '"k3" is not a result of this lab. Did you mean "k2"?'],
    [
      'gap(k2) is 2 %',
      'A condition is a measure, "<" or ">", and a limit with its unit. For example: "gap(k2) < 2 %" or "speed < 3 m/s"',
    ],
    ['speed < 3 kg', '"3 kg" cannot be held against speed, which is given in m/s.'],
    ['share(k2) < 2 %', '"share" needs a result and an effect: share(k2, EFFECT).'],
    [
      'share(k2, wheel turn too) < 2 %',
      '"wheel turn too" is not an effect of this lab. Did you mean "wheel turns too"?',
    ],
    ['colour < 3', '"colour" is nothing that can be asked of a run.'],
  ])('%s', (condition, sentence) => {
    const [told] = sentencesOf(readCondition(lab, condition, '--until'));
    expect(told).toContain(sentence);
  });

  it.each([
    ['L', 'What is varied is a symbol, "=", and a range or a list of values with units.'],
    ['L=2m..1m', 'The range of L must rise; "2m..1m" does not.'],
    ['L=1m..2kg', 'has the dimension of mass'],
    ['m_c=1g..2g', 'm_c is computed from "lambda*L" and cannot be set by "--vary".'],
    ['L=1m..2m by 0m', 'The step of L must be above 0'],
  ])('--vary %s', (vary, sentence) => {
    expect(sentencesOf(readVariation(lab, vary))[0]).toContain(sentence);
  });
});

it('the share of an effect over the scatter is what shows it', () => {
  const gauge = createGauge(tow, { rehearsals: 12 });
  const spot = gauge.at([]);
  const measure = (text: string) => valueFrom(valueFrom(readMeasure(tow.lab, text, 'test')).evaluate(spot));
  const visible = measure('visible(k2, rolling resistance)');
  expect(visible).toBeCloseTo(measure('share(k2, rolling resistance)') / measure('u(k2)'), 9);
  expect(visible).toBeGreaterThan(1);
});
