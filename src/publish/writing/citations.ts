import { type LabDocumentTree, walkBlocks } from '../document/index.ts';

/** The number of each entry of the list of references, by its key. */
export function citationNumbers(tree: LabDocumentTree): ReadonlyMap<string, number> {
  const numbers = new Map<string, number>();
  for (const block of walkBlocks(tree.blocks)) {
    if (block.kind !== 'references') continue;
    for (const { key } of block.entries) if (!numbers.has(key)) numbers.set(key, numbers.size + 1);
  }
  return numbers;
}
