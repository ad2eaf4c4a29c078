import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Document } from 'yaml';
import { readDocument } from '../../src/lab/index.ts';
import { formatProblem, type Place } from '../../src/problem/index.ts';
import { valueFrom } from './slope-lab.ts';

/** The character that stands at a place of the text. */
function characterAt(text: string, { line = 0, column = 0 }: Place): string {
  return text.split('\n')[line - 1]?.[column - 1] ?? '';
}

function sentences(text: string): string[] {
  const document = readDocument(text, 'lab.yaml');
  return (document.ok ? document.warnings : document.problems).map(formatProblem);
}

/** Where each "§" of the value stands in the file. */
function placesOfMark(text: string, path: readonly (string | number)[]): string[] {
  const document = valueFrom(readDocument(text, 'lab.yaml'));
  let value: unknown = document.data;
  for (const part of path) value = Reflect.get(Object(value), part);
  const origin = document.originOf(path);
  return Array.from(String(value).matchAll(/§/g), ({ index: offset }) => {
    const { line, column } = origin.placeAt(offset);
    return `${line}:${column}`;
  });
}

describe('the place of a character inside a scalar', () => {
  it('is found in a plain scalar', () => {
    expect(placesOfMark('a: one § two', ['a'])).toEqual(['1:8']);
  });

  it('is found behind either kind of quotes, with escapes before it', () => {
    expect(placesOfMark('a: "x §"', ['a'])).toEqual(['1:7']);
    expect(placesOfMark("a: 'it''s §'", ['a'])).toEqual(['1:11']);
    expect(placesOfMark('a: "\\u03bb\\t\\x41\\U0001F600 §"', ['a'])).toEqual(['1:28']);
  });

  it('is found on the later lines of a plain and of a quoted scalar', () => {
    expect(placesOfMark('a: one\n   two §\n   three §\n', ['a'])).toEqual(['2:8', '3:10']);
    expect(placesOfMark('a: "one\n    two § \\\n    three §"\n', ['a'])).toEqual(['2:9', '3:11']);
  });

  it('is found in literal and folded blocks, behind their indentation', () => {
    expect(placesOfMark('a: |\n  one §\n    two §\n\n  §\n', ['a'])).toEqual(['2:7', '3:9', '5:3']);
    expect(placesOfMark('a: >-\n  one\n  two §\n\n  §\n', ['a'])).toEqual(['3:7', '5:3']);
    expect(placesOfMark('b:\n  a: |2\n      one §\n', ['b', 'a'])).toEqual(['3:11']);
  });

  it('is found in flow maps and lists over several lines', () => {
    expect(placesOfMark('a: { b: 1,\n     c: [x, y §,\n     "z §"] }', ['a', 'c', 1])).toEqual(['2:15']);
    expect(placesOfMark('a: { b: 1,\n     c: [x, y §,\n     "z §"] }', ['a', 'c', 2])).toEqual(['3:9']);
  });

  it('is right for any text in any style that YAML can write it in', () => {
    const styles = ['PLAIN', 'QUOTE_DOUBLE', 'QUOTE_SINGLE', 'BLOCK_FOLDED', 'BLOCK_LITERAL'] as const;
    const texts = fc.array(
      fc.constantFrom('ab', ' ', '\n', "'", '"', '\\', 'λ', '#', ': ', '§', '-', '\t', '*', '😀'),
      {
        maxLength: 30,
      },
    );
    fc.assert(
      fc.property(
        texts,
        fc.constantFrom(...styles),
        fc.integer({ min: 0, max: 3 }),
        (parts, style, depth) => {
          const value = parts.join('');
          const path = Array.from({ length: depth }, () => 'k');
          let data: unknown = { a: value };
          for (const key of path) data = { [key]: data };
          const written = new Document(data).toString({ defaultStringType: style, lineWidth: 24 });
          const document = valueFrom(readDocument(written, 'lab.yaml'));
          const origin = document.originOf([...path, 'a']);
          [...value].reduce((offset, character) => {
            if (!/\s/.test(character)) {
              const found = characterAt(written, origin.placeAt(offset));
              // Where the writer used an escape, its backslash is the place.
              if (found !== '\\') expect([character[0], written]).toEqual([found, written]);
            }
            return offset + character.length;
          }, 0);
        },
      ),
      { seed: 3, numRuns: 400 },
    );
  });
});

describe('aliases', () => {
  it('are read, and what is wrong with one is said where the alias stands', () => {
    const document = valueFrom(readDocument('a: &x { b: one }\nc: *x\nd: { e: *x }', 'lab.yaml'));
    expect(document.data).toEqual({ a: { b: 'one' }, c: { b: 'one' }, d: { e: { b: 'one' } } });
    expect(document.originOf(['c', 'b']).placeAt(2)).toEqual({ file: 'lab.yaml', line: 2, column: 4 });
    expect(document.placeOf(['d', 'e', 'b'])).toEqual({ file: 'lab.yaml', line: 3, column: 9 });
  });

  it('of nothing, and of what they stand in, are refused at their place', () => {
    expect(sentences('a: 1\nb: { c: *x }')).toEqual([
      'lab.yaml:2:9  This is not YAML: the alias *x stands before any anchor &x that it could repeat. A text that begins with * needs quotes.',
    ]);
    expect(sentences('a: &x { b: *x }')).toEqual([
      'lab.yaml:1:12  The alias *x stands inside what it repeats, so it has no end.',
    ]);
  });

  it('that would expand a few lines to millions are refused', () => {
    const bomb = Array.from({ length: 30 }, (_, i) =>
      i === 0 ? 'a0: &a0 [x, x, x, x]' : `a${i}: &a${i} [*a${i - 1}, *a${i - 1}, *a${i - 1}, *a${i - 1}]`,
    );
    expect(sentences(bomb.join('\n'))).toEqual([
      expect.stringContaining('The aliases of this file cannot be resolved'),
    ]);
  });
});

describe('what is not a lab file at all', () => {
  it.each([
    ['a: 1\n\tb: 2', 'lab.yaml:2:1  This is not YAML: Tabs are not allowed as indentation.'],
    [
      'a: 1\n---\nb: 2\n',
      'lab.yaml:2:1  The file holds several documents with "---" between them; a lab file is one.',
    ],
    [
      'a: 1\nb: 2\na: 3',
      'lab.yaml:3:1  "a" stands here a second time; a key can stand only once. Join the two, or remove one.',
    ],
    [
      'a: { 1: x, "1": y }',
      'lab.yaml:1:12  "1" stands here a second time; a key can stand only once. Join the two, or remove one.',
    ],
    ['a:\n  __proto__: { b: 1 }', 'lab.yaml:2:3  "__proto__" cannot be a key; choose another name.'],
    ['? [a, b]\n: c', 'lab.yaml:1:3  A list or map stands here as a key; a key is a word.'],
    ['a: !secret x', 'lab.yaml:1:4  Unresolved tag: !secret. It is read as if the tag were not there.'],
  ])('%j is told at its place', (text, sentence) => {
    expect(sentences(text)).toEqual([sentence]);
  });

  it('values stay texts, numbers, lists and maps whatever the file says of itself', () => {
    const text =
      '%YAML 1.1\n---\na: !!timestamp 2001-02-03\nb: !!binary aGk=\nc: !!set { x, y }\nd: yes\ne: 1:30\n';
    const document = valueFrom(readDocument(text, 'lab.yaml'));
    expect(document.data).toEqual({
      a: '2001-02-03',
      b: 'aGk=',
      c: { x: null, y: null },
      d: 'yes',
      e: '1:30',
    });
  });

  it('nesting without end is told, at a place where it can be', () => {
    expect(sentences(`a: ${'['.repeat(200)}${']'.repeat(200)}`)).toEqual([
      'lab.yaml:1:67  Lists and maps are nested deeper than 64 levels here.',
    ]);
    expect(sentences('['.repeat(200_000))).toEqual([expect.stringContaining('nested')]);
  });

  it('a file of many keys is read in time that grows with their number, not with its square', () => {
    const text = Array.from({ length: 40_000 }, (_, i) => `k${i}: 1`).join('\n');
    expect(sentences(text)).toEqual([]);
  });
});
