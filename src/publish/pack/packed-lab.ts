import type { Provenance } from '../document/index.ts';

/** What a pack says of the lab that it holds. */
export interface PackedLab {
  readonly title: string;
  /** A few sentences; '' where the lab has none. */
  readonly about: string;
  /** An SPDX identifier, or words; '' where the lab names none. */
  readonly licence: string;
  readonly provenance: Provenance;
}
