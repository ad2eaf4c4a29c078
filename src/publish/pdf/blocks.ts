import type { Block, LabDocumentTree } from '../document/index.ts';
import {
  authorFormula,
  createHeadingLevels,
  equationOf,
  figureSvg,
  leadsOn,
  measureSvg,
} from '../writing/index.ts';
import { type InlineContext, inlineContext, typstInlines } from './inlines.ts';
import { captionOf, typstTable } from './tables.ts';
import { typstFormula } from './typst-math.ts';
import { typstString } from './typst-string.ts';

/** The markup of a document while it is written, and the images that it shows. */
export interface Sheet extends InlineContext {
  readonly levelOf: (level: 1 | 2 | 3) => 1 | 2 | 3;
  /** Files in memory by name; nothing else can be read. */
  readonly images: Map<string, Uint8Array>;
  readonly svg: (block: Block & { kind: 'figure' }) => string;
  questions: number;
}

export function createSheet(
  tree: LabDocumentTree,
  svg: Sheet['svg'] = ({ figure }) => figureSvg(figure, ''),
): Sheet {
  return { ...inlineContext(tree), levelOf: createHeadingLevels(), images: new Map(), svg, questions: 0 };
}

/** Blocks as markup of the typesetter, in order. */
export function typstBlocks(blocks: readonly Block[], sheet: Sheet): string {
  return blocks
    .map((block, index) => {
      const markup = typstBlock(block, sheet);
      return leadsOn(blocks, index, sheet.settings) ? `#leading[${markup}]` : markup;
    })
    .join('\n\n');
}

function typstBlock(block: Block, sheet: Sheet): string {
  switch (block.kind) {
    case 'heading':
      return `#heading(level: ${sheet.levelOf(block.level)})[${typstInlines(block.inlines, sheet)}]`;
    case 'paragraph':
      return typstInlines(block.inlines, sheet);
    case 'list': {
      const items = block.items.map((item) => `[${typstBlocks(item, sheet)}]`);
      const tight = block.items.every((item) => item.length === 1);
      return `#${block.ordered ? 'enum' : 'list'}(tight: ${tight}, ${items.join(', ')})`;
    }
    case 'table':
      return typstTable(block, sheet);
    case 'equation': {
      const math = typstFormula(equationOf(block.left, block.right, sheet.settings), true);
      return `#line-of-derivation[${math}][${typstInlines(block.note, sheet)}]`;
    }
    case 'display tex':
      return `#line-of-derivation[${typstFormula(authorFormula(block.tex), true)}][]`;
    case 'figure': {
      const svg = sheet.svg(block);
      const { widthPt } = measureSvg(svg);
      const image = addImage(sheet, new TextEncoder().encode(svg), 'svg');
      const alt = typstString(`${block.figure.title}. ${block.figure.description}`);
      return `#figure(${captionOf(block.caption, sheet)}fitted(${image}, ${widthPt}pt, ${alt}))`;
    }
    case 'image': {
      const image = addImage(sheet, block.bytes, block.mediaType === 'image/png' ? 'png' : 'jpg');
      // 150 points of a picture to an inch, as far as the page is wide.
      const widthPt = (block.widthPixels * 72) / 150;
      return `#figure(${captionOf(block.caption, sheet)}fitted(${image}, ${widthPt}pt, ${typstString(block.alternative)}))`;
    }
    case 'caution': {
      const items = block.items.map((item) => `[${typstInlines(item, sheet)}]`);
      const list = items.length === 0 ? '' : `#list(${items.join(', ')})`;
      return `#caution(${typstString(sheet.words.caution)})[${list}\n\n${typstInlines(block.closing, sheet)}]`;
    }
    case 'question': {
      sheet.questions += 1;
      const label = typstString(`${sheet.words.question(sheet.questions)}.`);
      const text = `#question(${label}, ${block.answer.length === 0 ? block.lines : 0})[${typstInlines(block.inlines, sheet)}]`;
      if (block.answer.length === 0) return text;
      return `${text}\n\n#note(${typstString(sheet.words.answer)})[${typstBlocks(block.answer, sheet)}]`;
    }
    case 'teacher note':
      return `#note(${typstString(sheet.words.forTheTeacher)})[${typstBlocks(block.blocks, sheet)}]`;
    case 'code':
      return `#raw(${typstString(block.text.replace(/\n$/, ''))}, block: true)`;
    case 'page break':
      return '#pagebreak(weak: true)';
    case 'references': {
      const entries = block.entries.map(({ inlines }) => `[${typstInlines(inlines, sheet)}]`);
      return entries.length === 0 ? '' : `#enum(numbering: "[1]", tight: true, ${entries.join(', ')})`;
    }
    case 'slide':
      return `#heading(level: 1)[${typstInlines(block.title, sheet)}]\n\n${typstBlocks(block.blocks, sheet)}`;
  }
}

function addImage(sheet: Sheet, bytes: Uint8Array, ending: string): string {
  const name = `image-${sheet.images.size + 1}.${ending}`;
  sheet.images.set(name, bytes);
  return typstString(`/${name}`);
}
