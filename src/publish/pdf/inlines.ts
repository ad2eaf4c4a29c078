import type { Inline, LabDocumentTree, PrintSettings } from '../document/index.ts';
import {
  authorFormula,
  citationNumbers,
  formulaOf,
  printValue,
  safeLink,
  type WriterWords,
  wordsOf,
} from '../writing/index.ts';
import { typstFormula } from './typst-math.ts';
import { typstString, typstText } from './typst-string.ts';

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

/** A line of a document as markup of the typesetter. */
export function typstInlines(inlines: readonly Inline[], context: InlineContext): string {
  return inlines.map((inline) => typstInline(inline, context)).join('');
}

function typstInline(inline: Inline, context: InlineContext): string {
  switch (inline.kind) {
    case 'text':
      return unbroken(inline.text);
    case 'emphasis':
      return `#emph[${typstInlines(inline.inlines, context)}];`;
    case 'strong':
      return `#strong[${typstInlines(inline.inlines, context)}];`;
    case 'code':
      return `#raw(${typstString(inline.text)});`;
    case 'value':
      return `#box(${typstString(printValue(inline, context.settings))});`;
    case 'formula':
      return typstFormula(formulaOf(inline.tree, context.settings), false);
    case 'tex':
      return typstFormula(authorFormula(inline.tex), false);
    case 'language': {
      const [language = ''] = inline.language.toLowerCase().split('-');
      const text = typstInlines(inline.inlines, context);
      return /^[a-z]{2,3}$/.test(language) ? `#text(lang: "${language}")[${text}];` : text;
    }
    case 'blank':
      return `#blank(${Math.min(60, Math.max(1, inline.characters))});`;
    case 'citation':
      return typstText(`[${inline.keys.map((key) => String(context.citations.get(key) ?? key)).join(', ')}]`);
    case 'link': {
      const address = safeLink(inline.to);
      const text = typstInlines(inline.inlines, context);
      return address === null || address.startsWith('#') ? text : `#link(${typstString(address)})[${text}];`;
    }
  }
}

/** Text in which a quotient of units, as in 1/s², is not broken at its slash. */
function unbroken(text: string): string {
  return text
    .split(/(?<![^\s(])([\p{L}\d°·⁻¹²³⁴]{1,8}\/\(?[\p{L}·⁻¹²³⁴]{1,8}\)?)(?![^\s.,;:)])/u)
    .map((part, index) => (index % 2 === 1 ? `#box(${typstString(part)});` : typstText(part)))
    .join('');
}
