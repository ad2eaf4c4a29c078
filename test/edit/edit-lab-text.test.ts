import { describe, expect, it } from 'vitest';
import { editLabText, type LabEdit } from '../../src/edit/index.ts';

const lab = `# A lab
benchwright: 1
title: "A trolley"
about: >
  Some words that
  go on.
quantities:
  g:      { is: local gravity, value: 9.81 m/s^2 }   # common
  L:      { is: length, value: 1.20 m, u: 2 mm }     # ruler
  # the wheel
  radius: { is: 'its radius', value: 25 mm,
            from: "calliper, twice" }
where:
  a: g*L # an area
  bc: 2*a
derivation:
  - line: "x = 1"   # first
    because: so
  # why
  - { line: "x = 2" }
trials: []
`;

/** The text after the edits; the problem's sentence where they are refused. */
function edited(text: string, ...edits: readonly LabEdit[]): string {
  const outcome = editLabText(text, edits);
  return outcome.ok ? outcome.value : (outcome.problems[0]?.message ?? '');
}

/** The lines of the text after the edits that were not there before. */
function newLines(...edits: readonly LabEdit[]): readonly string[] {
  const before = lab.split('\n');
  return edited(lab, ...edits)
    .split('\n')
    .filter((line) => !before.includes(line));
}

describe('a value that is set', () => {
  it('leaves the comment behind it in its column', () => {
    expect(newLines({ kind: 'set', at: ['quantities', 'g', 'value'], to: '9.812 m/s^2' })).toEqual([
      '  g:      { is: local gravity, value: 9.812 m/s^2 }  # common',
    ]);
    expect(newLines({ kind: 'set', at: ['quantities', 'L', 'value'], to: '1 m' })).toEqual([
      '  L:      { is: length, value: 1 m, u: 2 mm }        # ruler',
    ]);
  });

  it('keeps its quotes, and gets some where it could be misread', () => {
    expect(newLines({ kind: 'set', at: ['title'], to: 'A cart' })).toEqual(['title: "A cart"']);
    expect(newLines({ kind: 'set', at: ['quantities', 'radius', 'is'], to: "the wheel's" })).toEqual([
      "  radius: { is: 'the wheel''s', value: 25 mm,",
    ]);
    expect(newLines({ kind: 'set', at: ['quantities', 'L', 'is'], to: 'length, taut' })).toEqual([
      '  L:      { is: "length, taut", value: 1.20 m, u: 2 mm } # ruler',
    ]);
    expect(newLines({ kind: 'set', at: ['where', 'a'], to: 'on' })).toEqual(['  a: "on" # an area']);
  });

  it('stays a folded block, broken anew', () => {
    const to = `${'A sentence of some length that goes on. '.repeat(4).trim()}\nAnother paragraph.\n`;
    expect(newLines({ kind: 'set', at: ['about'], to })).toEqual([
      '  A sentence of some length that goes on. A sentence of some length that goes on. A sentence of some length that',
      '  goes on. A sentence of some length that goes on.',
      '  Another paragraph.',
    ]);
  });

  it('is written in brackets or lines as its neighbours are, where it is new', () => {
    const value = { is: 'mass', value: '3 g' };
    expect(newLines({ kind: 'set', at: ['quantities', 'm'], to: value })).toEqual([
      '  m:      { is: mass, value: 3 g }',
    ]);
    expect(newLines({ kind: 'set', at: ['trials', 0], to: { file: 'trials/a.csv', run: 1 } })).toEqual([
      'trials:',
      '  - { file: trials/a.csv, run: 1 }',
    ]);
  });

  it('makes what is missing, sections where they are usually found', () => {
    const text = edited(lab, { kind: 'set', at: ['effects', 'wheel turns', 'off', 'radius'], to: '0 m' });
    expect(text).toContain('  bc: 2*a\neffects:\n  wheel turns: { off: { radius: 0 m } }\nderivation:\n');
  });

  it('changes only what differs in a map that is set whole', () => {
    const to = { is: 'length', value: '1.30 m', within: '2 mm' };
    expect(newLines({ kind: 'set', at: ['quantities', 'L'], to })).toEqual([
      '  L:      { is: length, value: 1.30 m, within: 2 mm } # ruler',
    ]);
  });
});

describe('keys and items', () => {
  it('are renamed with their values in their column', () => {
    expect(newLines({ kind: 'rename', at: ['quantities', 'L'], to: 'len' })).toEqual([
      '  len:    { is: length, value: 1.20 m, u: 2 mm }     # ruler',
    ]);
    expect(newLines({ kind: 'rename', at: ['where', 'a'], to: 'area: all' })).toEqual([
      '  "area: all": g*L # an area',
    ]);
  });

  it('are taken away with the comment behind them, not with those above', () => {
    const text = edited(
      lab,
      { kind: 'remove', at: ['derivation', 0] },
      { kind: 'remove', at: ['quantities', 'radius'] },
    );
    expect(text).toContain('# ruler\n  # the wheel\nwhere:');
    expect(text).toContain('derivation:\n  # why\n  - { line: "x = 2" }\n');
  });

  it('leave an empty map or list where the last of them goes', () => {
    const text = edited(lab, { kind: 'remove', at: ['where', 'a'] }, { kind: 'remove', at: ['where', 'bc'] });
    expect(text).toContain('where:\n  {}\n');
  });

  it('move with the comments that belong to them', () => {
    const text = edited(lab, { kind: 'move', at: ['derivation', 1], index: 0 });
    expect(text).toContain(
      'derivation:\n  # why\n  - { line: "x = 2" }\n  - line: "x = 1"   # first\n    because: so\n',
    );
  });

  it('are put where they are asked for', () => {
    const text = edited(lab, {
      kind: 'insert',
      at: ['derivation'],
      index: 1,
      value: { line: 'y = 1', because: 'a, b' },
    });
    expect(text).toContain('    because: so\n  - line: y = 1\n    because: a, b\n  # why\n');
  });
});

describe('a file', () => {
  it('with Windows line breaks, or without a last one, keeps them', () => {
    const windows = lab.replaceAll('\n', '\r\n');
    const text = edited(windows, { kind: 'insert', at: ['where'], key: 'd', value: '3*a' });
    expect(text).toBe(windows.replace('  bc: 2*a\r\n', '  bc: 2*a\r\n  d: 3*a\r\n'));
    expect(edited('title: a\nwhere:\n  a: 1', { kind: 'remove', at: ['where', 'a'] })).toBe(
      'title: a\nwhere:\n  {}',
    );
    expect(edited('title: a\nwhere: {}', { kind: 'set', at: ['where', 'a'], to: 1 })).toBe(
      'title: a\nwhere: { a: 1 }',
    );
  });

  it('that is not YAML is refused with the place of the mistake', () => {
    const outcome = editLabText('title: [\n', [{ kind: 'set', at: ['title'], to: 'x' }]);
    expect(outcome.ok).toBe(false);
    expect(!outcome.ok && outcome.problems[0]?.place.file).toBe('lab.yaml');
  });

  it('is left alone by an edit that makes no sense, which is said in a sentence', () => {
    expect(edited(lab, { kind: 'remove', at: ['quantities', 'none'] })).toBe(
      'The lab file has no "quantities, none".',
    );
    expect(edited(lab, { kind: 'rename', at: ['quantities', 'g'], to: 'L' })).toBe(
      '"quantities, L" is there already.',
    );
    expect(edited(lab, { kind: 'set', at: ['title', 'x'], to: 1 })).toBe(
      '"title" is a value; nothing stands in it.',
    );
    expect(edited(lab, { kind: 'set', at: ['trials', 5], to: 1 })).toBe('The lab file has no "trials, 6".');
  });

  it('with aliases is not changed behind the author’s back', () => {
    const text = 'a: &x { p: 1 }\nb: *x\n';
    expect(edited(text, { kind: 'set', at: ['b', 'p'], to: 2 })).toBe(
      '"b, p" cannot be changed here without changing other parts of the file.',
    );
    expect(edited(text, { kind: 'set', at: ['b'], to: 2 })).toBe('a: &x { p: 1 }\nb: 2\n');
    expect(edited(text, { kind: 'set', at: ['a', 'p'], to: 2 })).toContain('cannot be changed here');
  });
});
