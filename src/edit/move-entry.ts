import type { Entry } from './lab-tree.ts';
import { beginsLine, endsLine, lineEnd, lineStart, type Patch } from './patch.ts';
import type { Parent } from './replace-value.ts';

/** Moves an entry among its neighbours: the texts of the entries change places, what stands between them stays. */
export function moveEntry(text: string, parent: Parent, from: number, to: number): readonly Patch[] | null {
  const slots = parent.entries.map((entry, index) => slotOf(text, parent, entry, index));
  const texts = slots.map((slot) => text.slice(slot.from, slot.to));
  const [moved] = texts.splice(from, 1);
  if (moved === undefined) return null;
  texts.splice(to, 0, moved);
  return slots.flatMap((slot, index) => {
    const own = texts[index] ?? '';
    return own === text.slice(slot.from, slot.to) ? [] : [{ ...slot, text: own }];
  });
}

interface Slot {
  readonly from: number;
  readonly to: number;
}

/** An entry with the comment behind it and, but for the first, with the comments in the lines right above it. */
function slotOf(text: string, { node, indent }: Parent, { start, end }: Entry, index: number): Slot {
  if (node.flow === true || !endsLine(text, end)) return { from: start, to: end };
  const to = text[end - 1] === '\n' ? end : lineEnd(text, end);
  if (index === 0 || !beginsLine(text, start)) return { from: start, to };
  let from = start;
  for (;;) {
    const line = lineStart(text, from);
    const above = lineStart(text, line - 1);
    const isComment = new RegExp(`^ {${indent}}#`).test(text.slice(above, line));
    if (line === 0 || !isComment) break;
    from = above + indent;
  }
  return { from, to };
}
