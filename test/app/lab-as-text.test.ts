import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readText } from '../../app/bench/reading.ts';
import { leastChange, withLineEndsOf, withPlainLineEnds } from '../../app/text/least-change.ts';
import { markProblems } from '../../app/text/problem-marks.ts';

describe('the lab as text', () => {
  it('takes in an outside change by one stretch, no longer than the texts differ', () => {
    expect(leastChange('L: 1.20 m\nh: 2 m', 'L: 1.25 m\nh: 2 m')).toEqual({ from: 6, to: 7, insert: '5' });
    expect(leastChange('same', 'same')).toBeNull();
    const short = fc.string({ unit: fc.constantFrom('a', 'b', '\n'), maxLength: 12 });
    fc.assert(
      fc.property(short, short, (before, after) => {
        const change = leastChange(before, after);
        if (change === null) return before === after;
        return before.slice(0, change.from) + change.insert + before.slice(change.to) === after;
      }),
      { seed: 5 },
    );
  });

  it('leaves the line ends of the file as they are', () => {
    const file = 'title: a\r\nquestion: b\r\n';
    expect(withLineEndsOf(file, withPlainLineEnds(file))).toBe(file);
    expect(withLineEndsOf('title: a\n', 'title: b\n')).toBe('title: b\n');
  });

  it('marks a message at what it speaks of', () => {
    const text = 'title: A cart\nquestoin: How fast?\n';
    const mark = markProblems(text, readText(text).problems).find(
      (one) => text.slice(one.from, one.to) === 'questoin',
    );
    expect(mark?.problem.message).toMatch(/is not a key here/);
  });
});
