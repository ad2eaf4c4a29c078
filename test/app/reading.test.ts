import { describe, expect, it } from 'vitest';
import { readText } from '../../app/bench/reading.ts';

const lab = `benchwright: 1
title: A swing
quantities:
  L: { is: length, value: 1.2 m, within: 2 s }
  T: { is: period, equals: 2*pi*sqrt(L/G) }
`;

describe('messages of a lab', () => {
  it('are found at the part of the file that they speak of, and at every part around it', () => {
    const reading = readText(lab);
    expect(reading.lab).toBeNull();
    const atLimits = reading.problemsAt(['quantities', 'L', 'within']);
    expect(atLimits).toHaveLength(1);
    expect(atLimits[0]?.message).toMatch(/"within" of L/);
    expect(reading.problemsAt(['quantities', 'L'])).toEqual(atLimits);
    expect(reading.problemsAt(['quantities', 'T', 'equals'])[0]?.message).toContain('G');
    expect(reading.problemsAt([])).toHaveLength(reading.problems.length);
  });

  it('of one part are not told at its neighbours', () => {
    expect(readText(lab).problemsAt(['quantities', 'L', 'value'])).toEqual([]);
    expect(readText(lab).problemsAt(['title'])).toEqual([]);
  });

  it('of a text that is not YAML are told for the whole file', () => {
    const reading = readText('title: [');
    expect(reading.document).toBeNull();
    expect(reading.problemsAt([]).length).toBeGreaterThan(0);
  });
});
