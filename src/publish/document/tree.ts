import type { Tree } from '../../expression/index.ts';
import type { Figure } from '../../figure/index.ts';
import type { Unit } from '../../quantity/index.ts';

/** The documents that a lab publishes. */
export type DocumentKind =
  | 'handout'
  | 'teacher guide'
  | 'answer key'
  | 'equipment list'
  | 'set-up sheet'
  | 'data sheet'
  | 'talk';

/** The mathematics that a document assumes. */
export type Level = 'steps' | 'algebra' | 'calculus';

/** A measured or computed number in a text; how it prints is the writer's setting (decimal mark, notation). */
export interface ValueInline {
  readonly kind: 'value';
  /** In `unit`. */
  readonly value: number;
  /** Standard uncertainty in `unit`; 0 for none. */
  readonly standardUncertainty: number;
  readonly unit: Unit;
  /** Significant digits where there is no uncertainty. */
  readonly significant?: number;
  /** Digits behind the decimal mark where there is no uncertainty, for columns that all have the same; wins over `significant`. */
  readonly decimals?: number;
  /** A change: a plus sign stands before what is more than 0. */
  readonly isSigned?: boolean;
  /** Uncertainty in brackets whatever the settings say: for tables that would not fit a page otherwise. */
  readonly isCompact?: boolean;
}

export type Inline =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'emphasis' | 'strong'; readonly inlines: readonly Inline[] }
  /** A formula from a checked tree; `text` is its plain reading, for alternative text. */
  | { readonly kind: 'formula'; readonly tree: Tree }
  /** A formula that an author wrote in TeX. */
  | { readonly kind: 'tex'; readonly tex: string }
  | ValueInline
  /** A gap that students fill in, as wide as so many characters. */
  | { readonly kind: 'blank'; readonly characters: number }
  | { readonly kind: 'citation'; readonly keys: readonly string[] }
  | { readonly kind: 'link'; readonly to: string; readonly inlines: readonly Inline[] }
  | { readonly kind: 'code'; readonly text: string }
  /** Words in another language than the document's, for those who hear it. */
  | { readonly kind: 'language'; readonly language: string; readonly inlines: readonly Inline[] };

export interface TableBlock {
  readonly kind: 'table';
  readonly caption: readonly Inline[];
  readonly head: readonly (readonly Inline[])[];
  readonly rows: readonly (readonly (readonly Inline[])[])[];
  /** One a column; numbers align at the decimal mark. */
  readonly align: readonly ('left' | 'right' | 'number')[];
  /** Empty rows that students fill in. */
  readonly emptyRows: number;
}

export type Block =
  | {
      readonly kind: 'heading';
      readonly level: 1 | 2 | 3;
      readonly inlines: readonly Inline[];
      readonly id: string;
    }
  | { readonly kind: 'paragraph'; readonly inlines: readonly Inline[] }
  | { readonly kind: 'list'; readonly ordered: boolean; readonly items: readonly (readonly Block[])[] }
  | TableBlock
  /** An equation on its own line; `note` stands beside it ('because …'). */
  | { readonly kind: 'equation'; readonly left: Tree; readonly right: Tree; readonly note: readonly Inline[] }
  | { readonly kind: 'display tex'; readonly tex: string }
  | { readonly kind: 'figure'; readonly figure: Figure; readonly caption: readonly Inline[] }
  /** A picture from the lab's folder; never anything that could hold a script. */
  | {
      readonly kind: 'image';
      readonly file: string;
      readonly bytes: Uint8Array;
      readonly mediaType: 'image/png' | 'image/jpeg';
      readonly widthPixels: number;
      readonly heightPixels: number;
      /** What there is to see, for those who cannot. */
      readonly alternative: string;
      readonly caption: readonly Inline[];
    }
  /** Never left out by a writer, never below the fold. */
  | {
      readonly kind: 'caution';
      readonly items: readonly (readonly Inline[])[];
      readonly closing: readonly Inline[];
    }
  | {
      readonly kind: 'question';
      readonly inlines: readonly Inline[];
      readonly lines: number;
      readonly answer: readonly Block[];
    }
  /** Shown in the teacher guide and the answer key only; the tree of a handout does not hold any. */
  | { readonly kind: 'teacher note'; readonly blocks: readonly Block[] }
  | { readonly kind: 'code'; readonly language: string; readonly text: string }
  | { readonly kind: 'page break' }
  | {
      readonly kind: 'references';
      readonly entries: readonly { readonly key: string; readonly inlines: readonly Inline[] }[];
    }
  /** One slide of a talk, with the time it should take and what the speaker says. */
  | {
      readonly kind: 'slide';
      readonly title: readonly Inline[];
      readonly blocks: readonly Block[];
      readonly seconds: number;
      readonly notes: readonly Block[];
    };

/** Settings that change how every number and every page prints. */
export interface PrintSettings {
  readonly language: string;
  readonly decimalMark: '.' | ',';
  readonly paper: 'a4' | 'letter';
  readonly notation: 'plus-minus' | 'brackets';
}

/** What a document was made from, so that a stale one is found. */
export interface Provenance {
  /** Name and SHA-256 (hexadecimal) of the lab file, the text files and each trial file. */
  readonly sources: readonly { readonly file: string; readonly sha256: string }[];
  /** One digest over all of them and the settings. */
  readonly digest: string;
  /** 'Benchwright 0.1.0'. */
  readonly madeBy: string;
}

/** A document, whole, before any format: every number in it is computed. */
export interface LabDocumentTree {
  readonly kind: DocumentKind;
  readonly level: Level | null;
  readonly title: string;
  /** Of the title, where it is not that of the document. */
  readonly titleLanguage?: string;
  readonly subtitle: string;
  readonly settings: PrintSettings;
  readonly licence: string;
  readonly provenance: Provenance;
  readonly blocks: readonly Block[];
}
