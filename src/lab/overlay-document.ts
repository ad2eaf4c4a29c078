import type { LabDocument, Path } from './document.ts';

/** A part of the data that was written at another place of the file than the one it is read at. */
export interface MovedPart {
  /** Where the part is read. */
  readonly at: Path;
  /** Where it was written. */
  readonly from: Path;
}

/**
 * A document in which some parts stand for others: what a kit puts in place of an instrument is read as that
 * instrument, and a message about it points to the kit.
 */
export function overlayDocument(document: LabDocument, parts: readonly MovedPart[]): LabDocument {
  // The longest match counts: a single setting may have been moved into a step that was moved as a whole.
  const longestFirst = [...parts].sort((a, b) => b.at.length - a.at.length);
  const resolve = (path: Path): Path => {
    const part = longestFirst.find(({ at }) => at.every((key, index) => key === path[index]));
    return part === undefined ? path : [...part.from, ...path.slice(part.at.length)];
  };
  return {
    file: document.file,
    data: document.data,
    placeOf: (path) => document.placeOf(resolve(path)),
    placeOfKey: (path) => document.placeOfKey(resolve(path)),
    originOf: (path) => document.originOf(resolve(path)),
  };
}

/** A document for parts that the program writes itself: every place in it is the one step of the work, in words. */
export function programDocument(file: string, step: string): LabDocument {
  const place = { file, step };
  return {
    file,
    data: {},
    placeOf: () => place,
    placeOfKey: () => place,
    originOf: () => ({ placeAt: () => place }),
  };
}
