import { describe, expect, it } from 'vitest';
import { beginHistory, endGesture, record, redo, undo } from '../../app/bench/history.ts';

describe('the deeds of a lab', () => {
  it('are undone in reverse and done again in order', () => {
    const done = record(record(beginHistory('a'), 'b', 'to b'), 'c', 'to c');
    const back = undo(undo(done));
    expect(back.present).toBe('a');
    expect(back.future.map(({ label }) => label)).toEqual(['to b', 'to c']);
    expect(redo(redo(back)).present).toBe('c');
  });

  it('of one gesture are undone together, and bear the last label', () => {
    let history = beginHistory('0');
    for (const step of ['1', '2', '3']) history = record(history, step, `to ${step}`, 'slider');
    expect(history.past).toEqual([{ text: '0', label: 'to 3' }]);
    expect(undo(history).present).toBe('0');
  });

  it('of two gestures with the same name are two, once the first has ended', () => {
    const first = endGesture(record(beginHistory('0'), '1', 'to 1', 'slider'));
    expect(record(first, '2', 'to 2', 'slider').past).toHaveLength(2);
  });

  it('that change nothing are none', () => {
    const history = record(beginHistory('a'), 'b', 'to b');
    expect(record(history, 'b', 'to b again')).toBe(history);
  });

  it('that are new make what was undone impossible to do again', () => {
    const history = record(undo(record(beginHistory('a'), 'b', 'to b')), 'c', 'to c');
    expect(redo(history)).toBe(history);
  });
});
