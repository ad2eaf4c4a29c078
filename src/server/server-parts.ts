import type { FileDigests } from '../files/index.ts';
import type { DocumentDesk } from './document-desk.ts';
import type { EventHub } from './event-hub.ts';
import type { Shelf } from './shelf.ts';
import type { Turns } from './turns.ts';
import type { LabWatch } from './watch-labs.ts';

/** What the answers are made with. */
export interface ServerParts {
  readonly shelf: Shelf;
  readonly hub: EventHub;
  readonly watch: LabWatch;
  readonly digests: FileDigests;
  readonly turns: Turns;
  readonly documents: DocumentDesk;
  /** A folder of the server's own, for documents of labs that are not written to. */
  readonly aside: string;
  /** The current folder: new labs are made in it. */
  readonly folder: string;
  /** Where the built app lies. */
  readonly appFolder: string;
  readonly version: string;
  readonly signal: { readonly aborted: boolean };
}
