import type { Inline, LabDocumentTree, PrintSettings } from '../document/index.ts';
import {
  authorFormula,
  citationNumbers,
  formulaOf,
  printValue,
  safeLink,
  type WriterWords,
  wordsOf,
  xmlAttribute,
  xmlText,
} from '../writing/index.ts';
import { mathmlOf } from './mathml.ts';

/** What is the same for all inlines of a page. */
export interface InlineContext {
  readonly settings: PrintSettings;
  readonly words: WriterWords;
  readonly citations: ReadonlyMap<string, number>;
  /** What every identifier begins with, where several documents stand on one page. */
  readonly idPrefix: string;
}

export function inlineContext(tree: LabDocumentTree): InlineContext {
  return {
    settings: tree.settings,
    words: wordsOf(tree.settings.language),
    citations: citationNumbers(tree),
    idPrefix: '',
  };
}

/** A line of a document as HTML. A sign behind a formula stays with it at a line's end. */
export function htmlInlines(inlines: readonly Inline[], context: InlineContext): string {
  let taken = 0;
  return inlines
    .map((inline, index) => {
      if (inline.kind === 'formula' || inline.kind === 'tex') {
        const next = inlines[index + 1];
        const sign = next?.kind === 'text' ? (/^[.,;:?!)\u201d]+/u.exec(next.text)?.[0] ?? '') : '';
        taken = sign.length;
        const math = htmlInline(inline, context);
        return sign === '' ? math : `<span class="together">${math}${xmlText(sign)}</span>`;
      }
      const rest =
        taken > 0 && inline.kind === 'text' ? { ...inline, text: inline.text.slice(taken) } : inline;
      taken = 0;
      return htmlInline(rest, context);
    })
    .join('');
}

function htmlInline(inline: Inline, context: InlineContext): string {
  switch (inline.kind) {
    case 'text':
      return xmlText(inline.text);
    case 'emphasis':
      return `<em>${htmlInlines(inline.inlines, context)}</em>`;
    case 'strong':
      return `<strong>${htmlInlines(inline.inlines, context)}</strong>`;
    case 'code':
      return `<code>${xmlText(inline.text)}</code>`;
    case 'value':
      return `<span class="value">${xmlText(printValue(inline, context.settings))}</span>`;
    case 'formula':
      return mathmlOf(formulaOf(inline.tree, context.settings), false);
    case 'tex':
      return mathmlOf(authorFormula(inline.tex), false);
    case 'language': {
      const language = xmlAttribute(inline.language);
      return `<span lang="${language}" xml:lang="${language}">${htmlInlines(inline.inlines, context)}</span>`;
    }
    case 'blank':
      return (
        `<span class="blank" style="width:${Math.min(60, Math.max(1, inline.characters))}ch">` +
        `<span class="heard">${xmlText(context.words.blank)}</span></span>`
      );
    case 'citation':
      return `<span class="citation">[${inline.keys.map((key) => citation(key, context)).join(', ')}]</span>`;
    case 'link': {
      const address = safeLink(inline.to);
      const text = htmlInlines(inline.inlines, context);
      return address === null
        ? text
        : `<a href="${xmlAttribute(address)}" rel="noopener noreferrer">${text}</a>`;
    }
  }
}

function citation(key: string, { citations, idPrefix }: InlineContext): string {
  const number = citations.get(key);
  return number === undefined ? xmlText(key) : `<a href="#${idPrefix}reference-${number}">${number}</a>`;
}
