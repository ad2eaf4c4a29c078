import { type Size, sizes } from '../../figure/index.ts';
import type { Block, LabDocumentTree } from '../document/index.ts';
import {
  authorFormula,
  createHeadingLevels,
  equationOf,
  figureSvg,
  leadsOn,
  xmlAttribute,
  xmlText,
} from '../writing/index.ts';
import { bytesToBase64 } from './bytes-to-base64.ts';
import { htmlInlines, type InlineContext, inlineContext } from './inlines.ts';
import { mathmlOf } from './mathml.ts';
import { htmlTable } from './tables.ts';

/** What counts on while a page is written. */
export interface Page extends InlineContext {
  readonly levelOf: (level: 1 | 2 | 3) => 1 | 2 | 3;
  readonly ids: Set<string>;
  /** What the page's figures and headings are counted below: 1 where the title is the only heading above. */
  readonly above: number;
  /** How large its figures are drawn. */
  readonly figureSize: Size;
  figures: number;
  tables: number;
  questions: number;
  cautions: number;
  notes: number;
}

export function createPage(tree: LabDocumentTree, above: number, figureSize: Size = sizes.column): Page {
  return {
    ...inlineContext(tree),
    levelOf: createHeadingLevels(),
    ids: new Set(['main']),
    above,
    figureSize,
    figures: 0,
    tables: 0,
    questions: 0,
    cautions: 0,
    notes: 0,
  };
}

/** Questions with up to so many lines to write on stay on one page. */
const LINES_KEPT = 12;

/** Blocks as HTML, in order. */
export function htmlBlocks(blocks: readonly Block[], page: Page): string {
  return blocks
    .map((block, index) => htmlBlock(block, page, leadsOn(blocks, index, page.settings)))
    .join('\n');
}

function htmlBlock(block: Block, page: Page, leads: boolean): string {
  switch (block.kind) {
    case 'heading': {
      const level = page.levelOf(block.level) + page.above;
      return `<h${level} id="${uniqueId(block.id, page)}">${htmlInlines(block.inlines, page)}</h${level}>`;
    }
    case 'paragraph':
      return `<p${leads ? ' class="leads"' : ''}>${htmlInlines(block.inlines, page)}</p>`;
    case 'list': {
      const name = block.ordered ? 'ol' : 'ul';
      return `<${name}>\n${block.items.map((item) => `<li>${htmlItem(item, page)}</li>`).join('\n')}\n</${name}>`;
    }
    case 'table':
      page.tables += 1;
      return htmlTable(block, page.words.table(page.tables), page);
    case 'equation': {
      const note =
        block.note.length === 0 ? '' : `<span class="note">${htmlInlines(block.note, page)}</span>`;
      const math = mathmlOf(equationOf(block.left, block.right, page.settings), true);
      return `<div class="equation">${math}${note}</div>`;
    }
    case 'display tex':
      return `<div class="equation">${mathmlOf(authorFormula(block.tex), true)}</div>`;
    case 'figure':
      page.figures += 1;
      return htmlFigure(
        figureSvg(block.figure, `${page.idPrefix}figure-${page.figures}-`, page.figureSize),
        block.caption,
        page,
      );
    case 'image': {
      page.figures += 1;
      const source = `data:${block.mediaType};base64,${bytesToBase64(block.bytes)}`;
      const size = `width="${block.widthPixels}" height="${block.heightPixels}"`;
      const image = `<img src="${source}" ${size} alt="${xmlAttribute(block.alternative)}"/>`;
      return htmlFigure(image, block.caption, page);
    }
    case 'caution': {
      const items = block.items.map((item) => `<li>${htmlInlines(item, page)}</li>`).join('\n');
      const closing = block.closing.length === 0 ? '' : `\n<p>${htmlInlines(block.closing, page)}</p>`;
      return (
        `<section class="caution" aria-label="${counted(page.words.caution, ++page.cautions)}">` +
        `<p class="label">${page.words.caution}</p>\n<ul>\n${items}\n</ul>${closing}\n</section>`
      );
    }
    case 'question': {
      page.questions += 1;
      const label = page.words.question(page.questions);
      const lines = '<div class="line"></div>'.repeat(block.lines);
      const room = block.lines === 0 ? '' : `<div class="lines" aria-hidden="true">${lines}</div>`;
      const answer =
        block.answer.length === 0
          ? ''
          : `<div class="answer"><p class="label">${page.words.answer}</p>\n${htmlBlocks(block.answer, page)}</div>`;
      return (
        `<section class="question${answer === '' && block.lines <= LINES_KEPT ? ' short-question' : ''}" aria-label="${label}">` +
        `<p><strong>${label}.</strong> ${htmlInlines(block.inlines, page)}</p>${answer === '' ? room : answer}</section>`
      );
    }
    case 'teacher note':
      return (
        `<aside class="teacher" aria-label="${counted(page.words.forTheTeacher, ++page.notes)}">` +
        `<p class="label">${page.words.forTheTeacher}</p>\n${htmlBlocks(block.blocks, page)}</aside>`
      );
    case 'code':
      return `<pre tabindex="0"><code>${xmlText(block.text)}</code></pre>`;
    case 'page break':
      return '<div class="page-break"></div>';
    case 'references': {
      const entries = block.entries.map(
        ({ key, inlines }) =>
          `<li id="${page.idPrefix}reference-${page.citations.get(key) ?? xmlAttribute(key)}">${htmlInlines(inlines, page)}</li>`,
      );
      return `<ol class="references">\n${entries.join('\n')}\n</ol>`;
    }
    case 'slide':
      return (
        `<section class="slide"><h${page.above + 1}>${htmlInlines(block.title, page)}</h${page.above + 1}>\n` +
        `${htmlBlocks(block.blocks, page)}\n<aside class="notes">${htmlBlocks(block.notes, page)}</aside></section>`
      );
  }
}

/** A label that no other part of the page has. */
function counted(label: string, count: number): string {
  return count === 1 ? label : `${label} ${count}`;
}

/** A lone paragraph needs no paragraph's room within a list. */
function htmlItem(item: readonly Block[], page: Page): string {
  const [first, ...rest] = item;
  if (first?.kind !== 'paragraph') return htmlBlocks(item, page);
  const text = htmlInlines(first.inlines, page);
  return rest.length === 0 ? text : `<p>${text}</p>\n${htmlBlocks(rest, page)}`;
}

function htmlFigure(content: string, caption: (Block & { kind: 'figure' })['caption'], page: Page): string {
  const text = caption.length === 0 ? '' : ` ${htmlInlines(caption, page)}`;
  const label = page.words.figure(page.figures);
  return `<figure>\n${content}\n<figcaption><strong>${label}.</strong>${text}</figcaption>\n</figure>`;
}

function uniqueId(wanted: string, page: Page): string {
  const base = page.idPrefix + (wanted.replace(/[^\p{L}\p{N}_-]+/gu, '-') || 'part');
  let id = base;
  for (let n = 2; page.ids.has(id); n++) id = `${base}-${n}`;
  page.ids.add(id);
  return id;
}
