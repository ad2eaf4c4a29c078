import { describe, expect, it } from 'vitest';
import { type Bench, FORCE, LENGTH, ONE, prepare, prepared, type StepsInYaml, sentencesOf } from './bench.ts';

function problemsOf(steps: StepsInYaml, more: Partial<Bench> = {}): string[] {
  return sentencesOf(
    prepare({
      quantities: {
        R: { value: 0.02, dimension: LENGTH },
        m: { value: 1, dimension: [0, 1, 0, 0, 0, 0, 0] },
      },
      instruments: {
        'wheel gate': { kind: 'edges', shape: { dimension: ONE }, settings: { 'edges per turn': 10 } },
        'force cell': { kind: 'sampled', shape: { dimension: FORCE }, settings: { rate: 100 } },
      },
      steps,
      ...more,
    }),
  );
}

const motion = { 'motion from edges': { of: 'wheel gate', radius: 'R', gives: ['t', 'x', 'v'] } };
const cell = { readings: { of: 'force cell', gives: ['t_F', 'F'] } };

describe('what the writer of a reduction reads', () => {
  it('where a step is mistyped', () => {
    expect(problemsOf([{ 'motion from edge': {} }])).toEqual([
      'step.1  "motion from edge" is not a step here. Did you mean "motion from edges"?',
    ]);
  });

  it('where a setting is mistyped and another is missing: two messages', () => {
    expect(problemsOf([motion, { line: { of: 'v^2', agianst: 'x^2', slope: 'k' } }])).toEqual([
      'step.2.agianst  "agianst" is not a setting of "line". Did you mean "against"?',
      'step.2  "line" needs "against": What goes to the right: the abscissa.',
    ]);
  });

  it('where an instrument is mistyped or of the wrong kind', () => {
    expect(problemsOf([{ 'motion from edges': { of: 'whel gate', gives: ['t', 'x'] } }])).toEqual([
      'step.1.of  "whel gate" is not an instrument of this lab. Did you mean "wheel gate"?',
    ]);
    expect(problemsOf([{ 'motion from edges': { of: 'force cell', gives: ['t', 'x'] } }])).toEqual([
      'step.1.of  "force cell" is of the kind sampled; "motion from edges" takes the readings of edges.',
    ]);
  });

  it('where a symbol is not known, with the nearest that is', () => {
    const [sentence] = problemsOf([motion, { line: { of: 'vv^2', against: 'x^2', slope: 'k' } }]);
    expect(sentence).toMatch(/^step\.2\.of/);
    expect(sentence).toContain('vv');
  });

  it('where dimensions do not fit, with both', () => {
    const [sentence] = problemsOf([motion, { column: { of: 'x + v', gives: 'y' } }]);
    expect(sentence).toMatch(/length \(m\).*\(m\/s\)|speed.*length/);
    const [start] = problemsOf([
      { 'motion from edges': { of: 'wheel gate', radius: 'R', start: '2 s', gives: ['t', 'x'] } },
    ]);
    expect(start).toBe('step.1.start  "2 s" has the dimension s; the position at the release must have m.');
  });

  it('where rows of two instruments are mixed', () => {
    expect(problemsOf([motion, cell, { line: { of: 'F', against: 'x', slope: 'k' } }])).toEqual([
      'step.3.against  "of" is from "readings" of force cell and "against" from "motion from edges" of wheel gate: their rows do not belong together.',
    ]);
    expect(problemsOf([motion, cell, { column: { of: 'F*x', gives: 'W' } }])).toEqual([
      'step.3.of  F is from "readings" of force cell and x from "motion from edges" of wheel gate: their rows do not belong together.',
    ]);
  });

  it('where a name is taken', () => {
    expect(problemsOf([motion, { column: { of: 'x', gives: 'v' } }])).toEqual([
      'step.2.gives  v is a column already; choose another name.',
    ]);
    expect(problemsOf([motion, { column: { of: 'x', gives: 'R' } }])).toEqual([
      'step.2.gives  R is a quantity of the lab; choose another name.',
    ]);
  });

  it('only once where later steps rest on one that failed', () => {
    expect(
      problemsOf([
        { 'motion from edges': { of: 'whel gate', radius: 'R', gives: ['t', 'x', 'v'] } },
        { keep: { while: 'x > 0.2 m' } },
        { line: { of: 'v^2', against: 'x^2', slope: 'k' } },
        { value: { of: '2*k', gives: 'kk' } },
      ]),
    ).toEqual(['step.1.of  "whel gate" is not an instrument of this lab. Did you mean "wheel gate"?']);
  });

  it('where an expression without columns stands in place of one', () => {
    expect(problemsOf([motion, { mean: { of: '2*R', gives: 'k' } }])).toEqual([
      'step.2.of  "2*R" holds no column; "of" of "mean" is worked out row by row. The columns are t, x, v.',
    ]);
    expect(problemsOf([motion, { value: { of: 'x/R', gives: 'k' } }])).toEqual([
      'step.2.of  "x/R" holds the column x; one value needs expressions of single values. Take the mean or the peak of the column first.',
    ]);
  });

  it('where "keep" has both or neither of its forms', () => {
    expect(problemsOf([motion, { keep: {} }])).toEqual([
      'step.2  "keep" needs either "while" or "from" and "to".',
    ]);
    expect(problemsOf([motion, { keep: { while: 'x > 0 m', to: 'x > 1 m' } }])).toHaveLength(1);
  });

  it('where the law of a fit does not hold a free symbol, or has another dimension', () => {
    expect(
      problemsOf([motion, { fit: { of: 'x', as: 'A + b*t', free: { A: '0 m', b: '1 m/s', c: '1' } } }]),
    ).toEqual(['step.2.as  "A + b*t" does not hold the free symbol c.']);
    expect(
      problemsOf([motion, { fit: { of: 'x', as: 'A + b*t', free: { A: '0 s', b: '1' } } }]),
    ).toHaveLength(1);
  });

  it('never from a lab whose steps are right, whose readings of quantities are known', () => {
    const reduction = prepared({
      quantities: { R: { value: 0.02, dimension: LENGTH }, F_0: { value: 1, dimension: FORCE } },
      instruments: {
        'wheel gate': { kind: 'edges', shape: { dimension: ONE }, settings: { 'edges per turn': 10 } },
        'force cell': { kind: 'sampled', shape: { dimension: FORCE }, settings: { rate: 100 } },
      },
      steps: [
        motion,
        cell,
        { peak: { of: 'F/F_0', gives: 'p' } },
        { mean: { of: 'v', gives: 'v_m', weights: 'stated' } },
      ],
    });
    expect([...reduction.quantitiesRead].sort()).toEqual(['F_0', 'R']);
    expect(reduction.scalars.get('p')).toEqual(ONE);
    expect(reduction.readsUncertainties).toBe(true);
  });
});
