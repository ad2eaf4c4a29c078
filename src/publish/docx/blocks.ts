import { Bookmark, HeadingLevel, ImageRun, Paragraph, type ParagraphChild, type Table, TextRun } from 'docx';
import type { Block, Inline, LabDocumentTree } from '../document/index.ts';
import {
  authorFormula,
  createHeadingLevels,
  equationOf,
  type Formula,
  figureSvg,
  leadsOn,
  measureSvg,
} from '../writing/index.ts';
import { cautionBox, frame } from './frames.ts';
import { type InlineContext, inlineContext, textRuns, wordInlines } from './inlines.ts';
import { rasterise } from './raster.ts';
import { wordTable } from './tables.ts';
import { displayMath } from './word-math.ts';

/** A document while it is written. */
export interface Manuscript extends InlineContext {
  readonly levelOf: (level: 1 | 2 | 3) => 1 | 2 | 3;
  /** Width between the margins, in points. */
  readonly widthPt: number;
  figures: number;
  tables: number;
  questions: number;
  /** Numbered lists, each counting from 1. */
  lists: number;
  /** The next heading begins a page. */
  breaksBefore: boolean;
}

/** Where a block stands. */
interface Standing {
  /** How many lists it is in. */
  readonly depth: number;
  /** A frame of answers and notes around it. */
  readonly framed: boolean;
}

type Piece = Paragraph | Table;

const HEADINGS = [HeadingLevel.HEADING_1, HeadingLevel.HEADING_2, HeadingLevel.HEADING_3] as const;

export function createManuscript(tree: LabDocumentTree, widthPt: number): Manuscript {
  return {
    ...inlineContext(tree),
    levelOf: createHeadingLevels(),
    widthPt,
    figures: 0,
    tables: 0,
    questions: 0,
    lists: 0,
    breaksBefore: false,
  };
}

/** Blocks as paragraphs and tables of a word processor, in order. */
export async function wordBlocks(
  blocks: readonly Block[],
  script: Manuscript,
  standing: Standing = { depth: 0, framed: false },
): Promise<Piece[]> {
  const pieces: Piece[] = [];
  for (const [index, block] of blocks.entries()) {
    // A heading begins the new page itself: no empty line stands above it.
    if (block.kind === 'page break' && blocks[index + 1]?.kind === 'heading') script.breaksBefore = true;
    else {
      const keepNext = leadsOn(blocks, index, script.settings);
      pieces.push(...(await wordBlock(block, script, standing, keepNext)));
    }
  }
  return pieces;
}

async function wordBlock(
  block: Block,
  script: Manuscript,
  standing: Standing,
  keepNext: boolean,
): Promise<Piece[]> {
  const framed = standing.framed ? frame() : {};
  switch (block.kind) {
    case 'heading': {
      const pageBreakBefore = script.breaksBefore;
      script.breaksBefore = false;
      return [
        new Paragraph({
          pageBreakBefore,
          heading: HEADINGS[script.levelOf(block.level) - 1],
          children: wordInlines(block.inlines, script),
        }),
      ];
    }
    case 'paragraph':
      return [new Paragraph({ ...framed, keepNext, children: wordInlines(block.inlines, script) })];
    case 'list':
      return wordList(block, script, standing);
    case 'table':
      script.tables += 1;
      return wordTable(block, script.words.table(script.tables), script);
    case 'equation':
      return equationPieces(equationOf(block.left, block.right, script.settings), block.note, script);
    case 'display tex':
      return equationPieces(authorFormula(block.tex), [], script);
    case 'figure': {
      const svg = figureSvg(block.figure, '');
      const size = measureSvg(svg);
      const png = await rasterise(svg, size.widthPt);
      const image = new ImageRun({
        type: 'svg',
        data: Buffer.from(svg),
        fallback: { type: 'png', data: Buffer.from(png) },
        transformation: fitted(size.widthPt, size.heightPt, script),
        altText: altText(script, block.figure.title, `${block.figure.title}. ${block.figure.description}`),
      });
      return figurePieces(image, block.caption, script);
    }
    case 'image': {
      const image = new ImageRun({
        type: block.mediaType === 'image/png' ? 'png' : 'jpg',
        data: Buffer.from(block.bytes),
        transformation: fitted((block.widthPixels * 72) / 150, (block.heightPixels * 72) / 150, script),
        altText: altText(script, block.file, block.alternative),
      });
      return figurePieces(image, block.caption, script);
    }
    case 'caution':
      return cautionPieces(block, script);
    case 'question':
      return questionPieces(block, script, standing);
    case 'teacher note':
      return [
        new Paragraph({
          ...frame(),
          keepNext: true,
          children: textRuns(script.words.forTheTeacher, { bold: true }),
        }),
        ...(await wordBlocks(block.blocks, script, { ...standing, framed: true })),
        new Paragraph({ style: 'AfterTable' }),
      ];
    case 'code':
      return block.text
        .replace(/\n$/, '')
        .split('\n')
        .map((line) => new Paragraph({ style: 'CodeBlock', children: textRuns(line) }));
    case 'page break':
      return [new Paragraph({ pageBreakBefore: true, style: 'AfterTable' })];
    case 'references':
      return block.entries.map(({ key, inlines }) => {
        const number = script.citations.get(key) ?? 0;
        const label = new Bookmark({ id: `reference_${number}`, children: textRuns(`[${number}]`) });
        return new Paragraph({
          style: 'ReferenceEntry',
          children: [label, new TextRun('\t'), ...wordInlines(inlines, script)],
        });
      });
    case 'slide':
      return [
        new Paragraph({ heading: HeadingLevel.HEADING_1, children: wordInlines(block.title, script) }),
        ...(await wordBlocks(block.blocks, script, standing)),
        ...(await wordBlocks(block.notes, script, { ...standing, framed: true })),
      ];
  }
}

async function wordList(
  block: Block & { kind: 'list' },
  script: Manuscript,
  standing: Standing,
): Promise<Piece[]> {
  const level = Math.min(standing.depth, 3);
  if (block.ordered) script.lists += 1;
  const numbering = block.ordered
    ? { reference: 'ordered', level, instance: script.lists }
    : { reference: 'bullets', level };
  const pieces: Piece[] = [];
  for (const [first, ...rest] of block.items) {
    const leads = first?.kind === 'paragraph';
    pieces.push(
      new Paragraph({
        numbering,
        style: 'ListParagraph',
        children: leads ? wordInlines(first.inlines, script) : [],
      }),
    );
    const below = leads || first === undefined ? rest : [first, ...rest];
    pieces.push(...(await wordBlocks(below, script, { ...standing, depth: standing.depth + 1 })));
  }
  return pieces;
}

function equationPieces(formula: Formula, note: readonly Inline[], script: Manuscript): Piece[] {
  const math = displayMath(formula);
  const hasNote = note.length > 0;
  const line = new Paragraph({
    style: 'Equation',
    keepNext: hasNote,
    children: math === null ? textRuns(formula.tex, { style: 'CodeInLine' }) : [],
  });
  if (math !== null) line.addChildElement(math);
  return hasNote
    ? [line, new Paragraph({ style: 'EquationNote', children: wordInlines(note, script) })]
    : [line];
}

function figurePieces(image: ImageRun, caption: readonly Inline[], script: Manuscript): Piece[] {
  script.figures += 1;
  const label = new TextRun({ text: `${script.words.figure(script.figures)}. `, bold: true });
  return [
    new Paragraph({ style: 'Figure', keepNext: true, children: [image] }),
    new Paragraph({ style: 'Caption', children: [label, ...wordInlines(caption, script)] }),
  ];
}

function fitted(widthPt: number, heightPt: number, script: Manuscript): { width: number; height: number } {
  const scale = Math.min(1, script.widthPt / widthPt);
  // The library counts in dots of 96 to an inch.
  const dots = (points: number): number => Math.max(1, Math.round((points * scale * 96) / 72));
  return { width: dots(widthPt), height: dots(heightPt) };
}

function altText(script: Manuscript, title: string, description: string) {
  return { id: String(script.figures + 1), name: `figure ${script.figures + 1}`, title, description };
}

/** Cautions stand in a table of one cell, which no page's end can tear. */
function cautionPieces(block: Block & { kind: 'caution' }, script: Manuscript): Piece[] {
  const line = (children: ParagraphChild[]) => new Paragraph({ style: 'Caution', keepNext: true, children });
  const lines = [
    line(textRuns(script.words.caution, { bold: true, style: 'CautionLabel' })),
    ...block.items.map((item) => line([new TextRun('\u2022\t'), ...wordInlines(item, script)])),
    ...(block.closing.length === 0
      ? []
      : [new Paragraph({ style: 'CautionEnd', children: wordInlines(block.closing, script) })]),
  ];
  return [cautionBox(lines), new Paragraph({ style: 'AfterTable' })];
}

async function questionPieces(
  block: Block & { kind: 'question' },
  script: Manuscript,
  standing: Standing,
): Promise<Piece[]> {
  script.questions += 1;
  const isAnswered = block.answer.length > 0;
  const lines = isAnswered ? 0 : block.lines;
  const text = new Paragraph({
    keepNext: lines > 0 || isAnswered,
    children: [
      ...textRuns(`${script.words.question(script.questions)}. `, { bold: true }),
      ...wordInlines(block.inlines, script),
    ],
  });
  const room = Array.from(
    { length: lines },
    (_none, index) => new Paragraph({ style: 'AnswerLine', keepNext: index < lines - 1 }),
  );
  if (!isAnswered) return [text, ...room];
  return [
    text,
    new Paragraph({ ...frame(), keepNext: true, children: textRuns(script.words.answer, { bold: true }) }),
    ...(await wordBlocks(block.answer, script, { ...standing, framed: true })),
    new Paragraph({ style: 'AfterTable' }),
  ];
}
