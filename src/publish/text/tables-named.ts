import type { Directives } from 'mdast-util-directive';
import type { Block } from '../document/index.ts';
import { type Desk, draftTables, writtenLines } from '../draft/index.ts';
import { attributesOf } from './attributes.ts';
import { type Reading, tell, tellUnknown } from './reading.ts';

/**
 * The tables that `::table{of=NAME}` stands for.
 *
 * @returns the blocks, or null where a problem was told
 */
export function tableBlocks(desk: Desk, node: Directives, reading: Reading): readonly Block[] | null {
  const attributes = attributesOf(node, ['of'], reading);
  if (attributes === null) return null;
  const { of = '' } = attributes;
  const make = Object.hasOwn(draftTables, of) ? draftTables[of] : undefined;
  if (make === undefined) {
    const message =
      of === '' ? '"::table" does not say of what: {of=results}.' : `There is no table of "${of}".`;
    tellUnknown(reading, node, 'unknown-table', message, of, Object.keys(draftTables));
    return null;
  }
  const blocks = make(desk).filter(({ kind }) => kind === 'table');
  if (blocks.length > 0) return blocks;
  tell(reading, node, 'missing-table', `The table of "${of}" is not there: the lab names none.`);
  return null;
}

/**
 * The lines that `::derivation{lines=2-3}` stands for; all lines where it does not say which.
 *
 * @returns the blocks, or null where a problem was told
 */
export function derivationBlocks(desk: Desk, node: Directives, reading: Reading): readonly Block[] | null {
  const attributes = attributesOf(node, ['lines'], reading);
  if (attributes === null) return null;
  const derivation = writtenLines(desk.lab);
  const written = attributes.lines ?? `1-${derivation.length}`;
  const range = /^(\d{1,4})(?:\s*[-–]\s*(\d{1,4}))?$/u.exec(written.trim());
  const first = Number(range?.[1] ?? Number.NaN);
  const last = Number(range?.[2] ?? range?.[1] ?? Number.NaN);
  if (!(first >= 1 && last >= first && last <= derivation.length)) {
    const have =
      derivation.length === 0
        ? 'the lab has no derivation'
        : `the derivation has lines 1 to ${derivation.length}`;
    tell(reading, node, 'broken-reference', `"lines" is "${written}", but ${have}.`);
    return null;
  }
  const { names, phrases } = desk;
  return derivation.slice(first - 1, last).map(({ equation, because }) => ({
    kind: 'equation',
    left: equation.left.tree,
    right: equation.right.tree,
    note: because === '' ? [] : phrases.background.because(names.words(because.trim().replace(/\.$/u, ''))),
  }));
}
