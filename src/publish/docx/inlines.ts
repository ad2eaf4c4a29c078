import { ExternalHyperlink, InternalHyperlink, type ParagraphChild, TextRun } from 'docx';
import type { Inline, LabDocumentTree, PrintSettings } from '../document/index.ts';
import {
  authorFormula,
  citationNumbers,
  cleanText,
  formulaOf,
  printValue,
  safeLink,
  type WriterWords,
  wordsOf,
} from '../writing/index.ts';
import { lineMath } from './word-math.ts';

/** What is the same for all lines of a document. */
export interface InlineContext {
  readonly settings: PrintSettings;
  readonly words: WriterWords;
  readonly citations: ReadonlyMap<string, number>;
}

export function inlineContext(tree: LabDocumentTree): InlineContext {
  return {
    settings: tree.settings,
    words: wordsOf(tree.settings.language),
    citations: citationNumbers(tree),
  };
}

/** How a run of letters looks. */
export interface Look {
  readonly bold?: boolean;
  readonly italics?: boolean;
  readonly style?: string;
  /** Where it is not the document's. */
  readonly language?: { readonly value: string };
}

/** A line as runs, equations and links of a word processor. */
export function wordInlines(
  inlines: readonly Inline[],
  context: InlineContext,
  look: Look = {},
): ParagraphChild[] {
  return inlines.flatMap((inline) => wordInline(inline, context, look));
}

function wordInline(inline: Inline, context: InlineContext, look: Look): ParagraphChild[] {
  switch (inline.kind) {
    case 'text':
      return textRuns(inline.text, look);
    case 'emphasis':
      return wordInlines(inline.inlines, context, { ...look, italics: true });
    case 'strong':
      return wordInlines(inline.inlines, context, { ...look, bold: true });
    case 'code':
      return textRuns(inline.text, { ...look, style: 'CodeInLine' });
    case 'value':
      return textRuns(printValue(inline, context.settings), look);
    case 'formula':
      return formulaRuns(formulaOf(inline.tree, context.settings), look);
    case 'tex':
      return formulaRuns(authorFormula(inline.tex), look);
    case 'language':
      return wordInlines(inline.inlines, context, { ...look, language: { value: inline.language } });
    case 'blank':
      return [
        new TextRun({
          text: '\u00a0'.repeat(Math.min(60, Math.max(1, inline.characters)) * 2),
          underline: {},
        }),
      ];
    case 'citation':
      return [
        ...textRuns('[', look),
        ...inline.keys.flatMap((key, index) => [
          ...(index === 0 ? [] : textRuns(', ', look)),
          ...citationRuns(key, context, look),
        ]),
        ...textRuns(']', look),
      ];
    case 'link': {
      const address = safeLink(inline.to);
      if (address === null || address.startsWith('#')) return wordInlines(inline.inlines, context, look);
      const children = wordInlines(inline.inlines, context, { ...look, style: 'Hyperlink' });
      return [new ExternalHyperlink({ link: address, children })];
    }
  }
}

function formulaRuns(formula: ReturnType<typeof authorFormula>, look: Look): ParagraphChild[] {
  const math = lineMath(formula);
  return math === null ? textRuns(formula.tex, { ...look, style: 'CodeInLine' }) : [math];
}

function citationRuns(key: string, context: InlineContext, look: Look): ParagraphChild[] {
  const number = context.citations.get(key);
  if (number === undefined) return textRuns(key, look);
  return [new InternalHyperlink({ anchor: `reference_${number}`, children: textRuns(String(number), look) })];
}

/** Text as runs; a line break stays one. */
export function textRuns(text: string, look: Look = {}): TextRun[] {
  return cleanText(text)
    .split(/\r\n?|\n/)
    .map((line, index) => new TextRun({ ...look, text: line, ...(index === 0 ? {} : { break: 1 }) }));
}
