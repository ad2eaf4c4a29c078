// Stands in until src/edit has landed; same face.
import { isMap, isSeq, parseDocument } from 'yaml';
import type { Outcome } from '../../src/problem/index.ts';
import { fail, problem, succeed } from '../../src/problem/index.ts';

export type PlainValue =
  | string
  | number
  | boolean
  | null
  | readonly PlainValue[]
  | { readonly [key: string]: PlainValue };
export type EditPlace = readonly (string | number)[];

export type LabEdit =
  | { readonly kind: 'set'; readonly at: EditPlace; readonly to: PlainValue }
  | { readonly kind: 'remove'; readonly at: EditPlace }
  | { readonly kind: 'rename'; readonly at: EditPlace; readonly to: string }
  | {
      readonly kind: 'insert';
      readonly at: EditPlace;
      readonly key?: string;
      readonly index?: number;
      readonly value: PlainValue;
    }
  | { readonly kind: 'move'; readonly at: EditPlace; readonly index: number };

export interface LabClash {
  readonly at: EditPlace;
  readonly mine: PlainValue | undefined;
  readonly theirs: PlainValue | undefined;
}

export function editLabText(text: string, edits: readonly LabEdit[]): Outcome<string> {
  const document = parseDocument(text, { uniqueKeys: false });
  if (document.errors.length > 0) {
    return fail(problem('not-yaml', {}, 'The text cannot be edited while it is not YAML.'));
  }
  for (const edit of edits) {
    switch (edit.kind) {
      case 'set':
        document.setIn(edit.at, edit.to);
        break;
      case 'remove':
        document.deleteIn(edit.at);
        break;
      case 'insert':
        if (edit.key === undefined) document.addIn(edit.at, edit.value);
        else document.setIn([...edit.at, edit.key], edit.value);
        break;
      case 'rename': {
        const parent = document.getIn(edit.at.slice(0, -1));
        if (isMap(parent)) {
          const pair = parent.items.find((one) => String(one.key) === String(edit.at.at(-1)));
          if (pair !== undefined) pair.key = document.createNode(edit.to);
        }
        break;
      }
      case 'move': {
        const parent = document.getIn(edit.at.slice(0, -1));
        const from = edit.at.at(-1);
        if (isSeq(parent) && typeof from === 'number') {
          const [item] = parent.items.splice(from, 1);
          parent.items.splice(edit.index, 0, item);
        }
      }
    }
  }
  return succeed(document.toString({ lineWidth: 0 }));
}

export function mergeLabTexts(
  base: string,
  mine: string,
  theirs: string,
): { readonly text: string; readonly clashes: readonly LabClash[] } {
  if (base === theirs || mine === theirs) return { text: mine, clashes: [] };
  if (base === mine) return { text: theirs, clashes: [] };
  return { text: mine, clashes: [{ at: [], mine: undefined, theirs: undefined }] };
}
