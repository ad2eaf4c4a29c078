import {
  AlignmentType,
  Document,
  Footer,
  Header,
  Packer,
  PageNumber,
  Paragraph,
  TabStopType,
  TextRun,
} from 'docx';
import type { LabDocumentTree } from '../document/index.ts';
import { cleanText, originLines, originSummary, wordsOf } from '../writing/index.ts';
import { createManuscript, wordBlocks } from './blocks.ts';
import { textRuns } from './inlines.ts';
import { withoutChance } from './same-bytes.ts';
import { wordNumbering, wordStyles } from './styles.ts';

/** Sizes in twentieths of a point. */
const PAPERS = { a4: { width: 11906, height: 16838 }, letter: { width: 12240, height: 15840 } } as const;
const MARGIN = 1300;

/**
 * A document for a word processor: native equations, tables, styles and numbering, all of which can be edited.
 *
 * Same tree, same bytes.
 */
export async function writeDocx(tree: LabDocumentTree): Promise<Uint8Array> {
  const { settings, provenance } = tree;
  const paper = PAPERS[settings.paper];
  const inner = paper.width - 2 * MARGIN;
  const script = createManuscript(tree, inner / 20);
  const title = cleanText(tree.title);
  const document = new Document({
    title,
    subject: cleanText(tree.subtitle),
    creator: provenance.madeBy,
    lastModifiedBy: provenance.madeBy,
    keywords: `digest:${provenance.digest}`,
    description: cleanText(originLines(tree).join('\n')),
    customProperties: [
      { name: 'Benchwright digest', value: provenance.digest },
      ...provenance.sources.map(({ file, sha256 }, index) => ({
        name: `Benchwright source ${index + 1}`,
        value: cleanText(`${file} ${sha256}`),
      })),
    ],
    styles: wordStyles(settings.language),
    numbering: wordNumbering,
    features: { updateFields: false },
    sections: [
      {
        properties: {
          page: {
            size: paper,
            margin: { top: MARGIN, bottom: MARGIN, left: MARGIN, right: MARGIN, header: 600, footer: 560 },
          },
          titlePage: true,
        },
        headers: { default: new Header({ children: [edgeLine(title, [], inner)] }) },
        footers: { default: footer(tree, inner), first: footer(tree, inner) },
        children: [
          new Paragraph({
            style: 'Title',
            children: textRuns(
              tree.title,
              tree.titleLanguage === undefined ? {} : { language: { value: tree.titleLanguage } },
            ),
          }),
          ...(tree.subtitle === ''
            ? []
            : [new Paragraph({ style: 'Subtitle', children: textRuns(tree.subtitle) })]),
          ...(await wordBlocks(tree.blocks, script)),
          new Paragraph({
            style: 'Origin',
            spacing: { before: 480 },
            children: textRuns(originSummary(tree)),
          }),
        ],
      },
    ],
  });
  return withoutChance(await Packer.toBuffer(document));
}

function footer(tree: LabDocumentTree, inner: number): Footer {
  const words = wordsOf(tree.settings.language);
  const { madeBy, digest } = tree.provenance;
  const counter = [`${words.page} `, PageNumber.CURRENT, ` ${words.of} `, PageNumber.TOTAL_PAGES];
  return new Footer({ children: [edgeLine(`${madeBy} \u00b7 ${digest.slice(0, 12)}`, counter, inner)] });
}

/** A line at the edge of a page: something at the left, something at the right. */
function edgeLine(left: string, right: readonly string[], inner: number): Paragraph {
  return new Paragraph({
    style: 'Origin',
    alignment: AlignmentType.LEFT,
    tabStops: [{ type: TabStopType.RIGHT, position: inner }],
    children: [
      ...textRuns(left),
      ...(right.length === 0 ? [] : [new TextRun('\t'), new TextRun({ children: [...right] })]),
    ],
  });
}
