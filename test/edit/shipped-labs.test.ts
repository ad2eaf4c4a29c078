import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isMap, isNode, isScalar, isSeq, type Node, parse, parseDocument } from 'yaml';
import { type EditPlace, editLabText, type LabEdit, type PlainValue } from '../../src/edit/index.ts';
import { editsOf } from './random-edits.ts';

const folder = fileURLToPath(new URL('../../labs/', import.meta.url));
const labs = readdirSync(folder)
  .filter((name) => existsSync(`${folder}${name}/lab.yaml`))
  .map((name) => ({
    name,
    text: readFileSync(`${folder}${name}/lab.yaml`, 'utf8'),
  }));

/** First and last line, from 0, that a place with its key takes up, by the YAML package alone. */
function linesOf(text: string, at: EditPlace): readonly [number, number] {
  let node: unknown = parseDocument(text).contents;
  let start = 0;
  for (const part of at) {
    if (isMap(node)) {
      const pair = node.items.find(({ key }) => isScalar(key) && String(key.value) === String(part));
      start = isScalar(pair?.key) ? (pair.key.range?.[0] ?? 0) : 0;
      node = pair?.value;
    } else if (isSeq(node)) {
      node = node.items[Number(part)];
      start = isNode(node) ? (node.range?.[0] ?? 0) : 0;
    }
  }
  const end = isNode(node) ? (lastOffset(node) ?? start) : start;
  const lineAt = (offset: number) => text.slice(0, offset).split('\n').length - 1;
  return [lineAt(start), lineAt(start + text.slice(start, end).trimEnd().length)];
}

function lastOffset(node: Node): number | undefined {
  return node.range?.[1];
}

/** Lines that differ: how many at the beginning and at the end of both texts are the same. */
function changedLines(
  before: string,
  after: string,
): { readonly first: number; readonly last: number; readonly lines: number } {
  const [a, b] = [before.split('\n'), after.split('\n')];
  let first = 0;
  while (first < a.length && first < b.length && a[first] === b[first]) first++;
  let end = 0;
  while (end < a.length - first && end < b.length - first && a[a.length - 1 - end] === b[b.length - 1 - end])
    end++;
  return { first, last: a.length - 1 - end, lines: b.length - end - first };
}

describe.each(labs)('$name, edited at random', ({ text }) => {
  const data: PlainValue = parse(text);
  const run = (
    check: (edit: LabEdit, after: string) => void,
    kinds: readonly LabEdit['kind'][],
    runs = 12,
  ) => {
    const edits = editsOf(data).filter(({ kind }) => kinds.includes(kind));
    let done = 0;
    fc.assert(
      fc.property(edits, (edit) => {
        const outcome = editLabText(text, [edit]);
        if (!outcome.ok) {
          // A name that is taken is refused; nothing else is.
          const message = outcome.problems[0]?.message ?? '';
          expect([message, edit]).toEqual([expect.stringMatching(/is there already/), edit]);
          return;
        }
        done++;
        check(edit, outcome.value);
      }),
      { seed: 20_260_301, numRuns: runs },
    );
    expect(done).toBeGreaterThan(runs / 3);
  };

  it('changes no line but those of the value that is set', () => {
    run(
      (edit, after) => {
        const [first, last] = linesOf(text, edit.at);
        const changed = changedLines(text, after);
        if (after === text) return;
        expect(changed.first).toBeGreaterThanOrEqual(first);
        expect(changed.last).toBeLessThanOrEqual(last);
      },
      ['set'],
    );
  });

  it('leaves every line as it was where something is added or taken away, but the one it stood in', () => {
    run(
      (edit, after) => {
        const changed = edit.kind === 'insert' ? changedLines(after, text) : changedLines(text, after);
        expect(changed.lines).toBeLessThanOrEqual(1);
      },
      ['insert', 'remove'],
    );
  });

  it('changes one line where a key is renamed', () => {
    run(
      (_edit, after) => {
        if (after !== text) expect(changedLines(text, after).lines).toBe(1);
      },
      ['rename'],
    );
  });

  it('loses not a sign where something is moved', () => {
    const signs = (of: string) => [...of].sort().join('');
    run((_edit, after) => expect(signs(after)).toBe(signs(text)), ['move']);
  });

  it('keeps every comment that stands in a line of its own and in no value that goes', () => {
    const comments = (of: string) => of.split('\n').filter((line) => /^\s*#/.test(line));
    run(
      (edit, after) => {
        if (edit.kind === 'remove' || edit.kind === 'set') {
          const [first, last] = linesOf(text, edit.at);
          const outside = text.split('\n').filter((_, line) => line < first || line > last);
          for (const comment of comments(outside.join('\n'))) expect(after.split('\n')).toContain(comment);
        } else expect(comments(after).sort()).toEqual(comments(text).sort());
      },
      ['set', 'remove', 'insert', 'rename', 'move'],
      20,
    );
  });
});
