import type { Definition } from 'mdast';
import type { Level } from '../document/index.ts';
import type { Desk } from '../draft/index.ts';
import type { Bibliography } from './bibliography.ts';
import type { Positioned, Reading } from './reading.ts';

/** What the parts of a text are turned into blocks with. */
export interface Converter {
  readonly desk: Desk;
  /** Null in the guide, which has no level of its own. */
  readonly level: Level | null;
  readonly reading: Reading;
  /** The language of the text where it is not that of the document, else null. */
  readonly foreign: string | null;
  readonly bibliography: Bibliography;
  /** Bytes of pictures by their path in the lab's folder. */
  readonly images: ReadonlyMap<string, Uint8Array>;
  readonly definitions: ReadonlyMap<string, Definition>;
  /** Links to places in the document, to be looked up when all sections are known. */
  readonly anchors: { readonly id: string; readonly node: Positioned }[];
}
