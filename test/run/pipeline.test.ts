import { describe, expect, it } from 'vitest';
import { readSetting } from '../../src/lab/index.ts';
import { formatProblem } from '../../src/problem/index.ts';
import { reconcile } from '../../src/reconcile/index.ts';
import {
  checkDerivation,
  groupRuns,
  infer,
  plannedGroups,
  predict,
  reduceTrials,
  rehearse,
  warnOfEffectsWithoutInfluence,
} from '../../src/run/index.ts';
import { change, pipelineFrom, SLOPE_LAB, sentencesOf } from '../lab/slope-lab.ts';
import { must, openShipped } from '../labs/shipped-lab.ts';
import { plantTrials } from './plant-trials.ts';

const settingOf = (pipeline: ReturnType<typeof pipelineFrom>, symbol: string, written: string) =>
  must(readSetting(symbol, written, pipeline.lab.quantities, {}, { placeAt: () => ({}) }, 'set'));

describe('running a lab leaves no trace', () => {
  it('raw readings are the same bits after everything that can be done with them', async () => {
    const { pipeline, trials } = await openShipped('tow-chain');
    const bits = () =>
      trials.map(({ readings }) =>
        readings.map(({ columns }) => columns.map(({ values }) => Array.from(values))),
      );
    const before = bits();
    must(reduceTrials(pipeline, trials));
    must(reconcile(pipeline, trials, { draws: 8 }));
    must(infer(pipeline, trials));
    expect(bits()).toEqual(before);
  });

  it('the author’s values are the same bits too, and the same call gives the same bits', () => {
    const pipeline = pipelineFrom(SLOPE_LAB);
    const before = Array.from(pipeline.nominal);
    const bits = () =>
      JSON.stringify(must(predict(pipeline)).results.map(({ predicted, theory }) => [predicted, theory]));
    const first = bits();
    must(rehearse(pipeline, { repeats: 3 }));
    must(checkDerivation(pipeline));
    must(reconcile(pipeline, [], { draws: 16 }));
    expect(bits()).toBe(first);
    expect(Array.from(pipeline.nominal)).toEqual(before);
  });

  it('a rehearsal is the same for the same seed, and another for another', () => {
    const pipeline = pipelineFrom(SLOPE_LAB);
    const values = (seed: number) =>
      Array.from(must(rehearse(pipeline, { repeats: 4, seed })).outputs[0].values);
    expect(values(3)).toEqual(values(3));
    expect(values(3)).not.toEqual(values(4));
  });

  it('a rehearsal of more repeats begins with the same ones', () => {
    const pipeline = pipelineFrom(SLOPE_LAB);
    const values = (repeats: number) =>
      Array.from(must(rehearse(pipeline, { repeats, seed: 3 })).outputs[0].values);
    expect(values(6).slice(0, 3)).toEqual(values(3));
  });
});

describe('a value that is not finite', () => {
  it('is told by its quantity, whoever set it', () => {
    const pipeline = pipelineFrom(SLOPE_LAB);
    const base = Float64Array.from(pipeline.nominal);
    base[2] = Number.NaN;
    expect(sentencesOf(pipeline.simulate(pipeline.values(base)))).toEqual([
      'lab.yaml:6:3  The value of m is not a finite number (NaN).',
    ]);
  });

  it('is told where a setting makes a computed quantity infinite', () => {
    const text = change(
      SLOPE_LAB,
      ['equals: m*g', 'equals: m*g*m/(m - 0.1*m_0)'],
      ['  w:     {', '  m_0:   { value: 1 kg }\n  w:     {'],
    );
    const pipeline = pipelineFrom(text);
    const [told] = sentencesOf(predict(pipeline, { settings: [settingOf(pipeline, 'm', '0.1 kg')] }));
    expect(told).toMatch(/^lab\.yaml:10:3 {2}The value of w is not a finite number/);
  });
});

describe('groups of runs', () => {
  const text = change(SLOPE_LAB, [
    'plan: { repeats: 3 }',
    'plan: { settings: { alpha: [3 degree, 6 degree], m: [200 g, 250 g] }, repeats: 2 }',
  ]);

  it('are every combination of the plan’s settings, labelled as written', () => {
    const { lab } = pipelineFrom(text);
    expect(plannedGroups(lab).map(({ label }) => label)).toEqual([
      'alpha = 3 degree, m = 200 g',
      'alpha = 3 degree, m = 250 g',
      'alpha = 6 degree, m = 200 g',
      'alpha = 6 degree, m = 250 g',
    ]);
    expect(plannedGroups(pipelineFrom(SLOPE_LAB).lab).map(({ label }) => label)).toEqual(['as given']);
  });

  it('are fewer where a setting from outside takes the place of the plan’s', () => {
    const pipeline = pipelineFrom(text);
    const groups = plannedGroups(pipeline.lab, [settingOf(pipeline, 'm', '0.3 kg')]);
    expect(groups.map(({ label }) => label)).toEqual([
      'alpha = 3 degree, m = 300 g',
      'alpha = 6 degree, m = 300 g',
    ]);
    const { outputs } = must(
      rehearse(pipeline, { repeats: 2, settings: [settingOf(pipeline, 'm', '0.3 kg')] }),
    );
    expect(outputs).toHaveLength(2);
  });

  it('of trials are one where the settings are, whatever unit and order they are written in', () => {
    const { lab, ...pipeline } = pipelineFrom(text);
    const [one] = plantTrials({ lab, ...pipeline }, pipeline.nominal, 1);
    const when = (alpha: string, m: string) => {
      const settings = [
        settingOf({ lab, ...pipeline }, 'm', m),
        settingOf({ lab, ...pipeline }, 'alpha', alpha),
      ];
      return { ...one, entry: { ...one.entry, when: settings } };
    };
    const trials = [
      one,
      when('3 degree', '0.2 kg'),
      when('0.05235987755982989 rad', '200000 mg'),
      when('3 degree', '201 g'),
    ];
    expect(groupRuns(lab, trials).map((group) => group.trials.length)).toEqual([3, 1]);
  });

  it('do not hold runs that were set aside, and one failed run does not hold up the others', () => {
    const pipeline = pipelineFrom(SLOPE_LAB);
    const [first, second, third] = plantTrials(pipeline, pipeline.nominal, 1);
    const aside = { ...second, entry: { ...second.entry, setAside: 'the cable caught' } };
    const empty = {
      ...third,
      readings: third.readings.map((reading) => ({
        ...reading,
        columns: reading.columns.map((column) => ({ ...column, values: column.values.slice(0, 2) })),
      })),
    };
    const reduced = must(reduceTrials(pipeline, [first, aside, empty]));
    expect(reduced.setAside.map(({ reason }) => reason)).toEqual(['the cable caught']);
    expect(reduced.runs).toHaveLength(1);
    expect(reduced.failed.map(({ problems }) => problems.map(formatProblem))).toEqual([
      [expect.stringMatching(/run 3 at as given.*2 readings are (there|left).*a line needs at least 3/)],
    ]);
  });
});

describe('an effect that is read but moves nothing', () => {
  const warned = (text: string) => must(warnOfEffectsWithoutInfluence(pipelineFrom(text))).map(formatProblem);

  it('is warned of', () => {
    expect(warned(change(SLOPE_LAB, ['- c*v^2', '- 0*c*v^2']))).toEqual([
      'lab.yaml:12:3  The effect "air" changes no result: on or off, a stay as they are. Is its quantity multiplied by 0, or does it cancel?',
    ]);
    expect(warned(change(SLOPE_LAB, ['- c*v^2', '- (c*v^2 - c*v^2)']))).toHaveLength(1);
  });

  it('is not, where it moves a result alone or beside the others', () => {
    expect(warned(SLOPE_LAB)).toEqual([]);
    // The air acts only where there is rolling resistance.
    expect(warned(change(SLOPE_LAB, ['- c*v^2', '- if(F_r > 0 N, c, 0)*v^2']))).toEqual([]);
  });
});
