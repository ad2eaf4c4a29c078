import type { ComponentType, LazyExoticComponent } from 'react';
import type { Path } from '../../src/lab/index.ts';
import type { BenchState } from '../bench/bench-state.ts';
import type { LedgerView } from '../ledger/ledger-provider.tsx';

/** One stage of the work, with its screen. */
export interface Stage {
  /** In the address. */
  readonly id: string;
  /** In our own words: 'The apparatus'. */
  readonly name: string;
  /** A sentence under the heading: what is done here. */
  readonly purpose: string;
  /** How it stands, in a few words, under the name; '' where there is nothing to say. */
  says(state: BenchState, ledgers: LedgerView): string;
  /** Parts of the lab file that are edited here: their messages are counted at the stage's name. */
  readonly edits: readonly Path[];
  /** Whether the ledger stays in sight beside it, so that one sees what a change does. */
  readonly hasLedgerBeside: boolean;
  readonly Screen: LazyExoticComponent<ComponentType>;
}
