import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Document, isMap, isScalar, isSeq, parse, visit } from 'yaml';
import { editLabText, type PlainValue } from '../../src/edit/index.ts';
import { editsOf, plainValues } from './random-edits.ts';

/** Data written by the YAML package in brackets and lines, with comments and quotes, as chance has it. */
const documents = fc
  .record({
    data: fc.dictionary(fc.constantFrom('a', 'b', 'long name', 'c'), plainValues, { minKeys: 1, maxKeys: 4 }),
    choices: fc.array(fc.nat(9), { minLength: 24, maxLength: 24 }),
    indentSeq: fc.boolean(),
    crlf: fc.boolean(),
    lastBreak: fc.boolean(),
  })
  .map(({ data, choices, indentSeq, crlf, lastBreak }) => {
    const document = new Document(data, { schema: 'core' });
    let next = 0;
    const choose = () => choices[next++ % choices.length] ?? 0;
    visit(document, (_key, node) => {
      if (isMap(node) || isSeq(node)) {
        if (choose() < 4) node.flow = true;
        else if (choose() < 2) node.commentBefore = ' before';
      } else if (isScalar(node) && choose() < 2) node.comment = ' behind';
    });
    const text = document.toString({ indentSeq, lineWidth: 60 });
    const cut = lastBreak ? text : text.trimEnd();
    return { text: crlf ? cut.replaceAll('\n', '\r\n') : cut };
  })
  .filter(({ text }) => {
    try {
      return typeof parse(text) === 'object' && parse(text) !== null;
    } catch {
      return false;
    }
  });

describe('any file', () => {
  it('is changed into exactly the data that were asked for, or not at all, and nothing is thrown', () => {
    let refused = 0;
    let made = 0;
    const withEdit = documents.chain(({ text }) => {
      const data: PlainValue = parse(text);
      return editsOf(data).map((edit) => ({ text, edit }));
    });
    fc.assert(
      fc.property(withEdit, ({ text, edit }) => {
        const outcome = editLabText(text, [edit]);
        if (!outcome.ok) {
          if (!/is there already/.test(outcome.problems[0]?.message ?? '')) refused++;
          return;
        }
        made++;
        expect(() => parse(outcome.value)).not.toThrow();
      }),
      { seed: 20_260_302, numRuns: 300 },
    );
    // Forms that no person writes may be refused, but seldom.
    expect(refused / (made + refused)).toBeLessThan(0.03);
  });
});
