import type { Expression, Scope } from '../expression/index.ts';
import type { LabDocument } from './document.ts';
import type { Quantities } from './quantity-section.ts';
import type { Tables } from './table-section.ts';

/** What every section after the quantities is read with. */
export interface Surroundings {
  readonly document: LabDocument;
  readonly quantities: Quantities;
  readonly tables: Tables;
  readonly scope: Scope;
}

/** The helper expressions of the model, by symbol. */
export type Helpers = ReadonlyMap<string, Expression>;
