import { type Block, type LabDocumentTree, linesOf, plainLine, walkBlocks } from '../document/index.ts';
import { originSummary, wordsOf } from '../writing/index.ts';
import { createSheet, typstBlocks } from './blocks.ts';
import { hasOriginAtFoot, pageSetup } from './page-setup.ts';
import { typeset } from './typeset.ts';
import { typstString, typstText } from './typst-string.ts';

/** Documents that are long enough to need a list of contents. */
const WITH_CONTENTS: ReadonlySet<string> = new Set(['teacher guide', 'answer key']);

/**
 * A document as PDF: tagged after PDF/UA-1, with title, language, outline, and a text for every figure and formula.
 *
 * Same tree, same bytes: no date, no font of the machine, no file, no network.
 */
export function writePdf(tree: LabDocumentTree): Uint8Array {
  const sheet = createSheet(tree);
  const body = typstBlocks(tree.blocks.slice(0, -1), sheet);
  // The origin never stands alone on a page: the last block comes along.
  const block = tree.blocks.slice(-1);
  const markup = typstBlocks(block, sheet);
  const last =
    isShort(block, tree) && !hasOriginAtFoot(tree)
      ? `#block(sticky: true, above: 0.95em)[${markup}]`
      : markup;
  return typeset(
    `${pageSetup(tree)}\n${openDocument(tree)}\n${body}\n\n${last}\n${closeDocument(tree)}\n`,
    sheet.images,
  );
}

/** Blocks of more letters may begin on the page before. */
const LONGEST_LAST = 2400;

function isShort(blocks: readonly Block[], { settings }: LabDocumentTree): boolean {
  if (blocks.some(({ kind }) => kind === 'page break' || kind === 'heading')) return false;
  const lines = [...walkBlocks(blocks)].flatMap(linesOf);
  return lines.reduce((sum, line) => sum + plainLine(line, settings).length, 0) <= LONGEST_LAST;
}

function openDocument(tree: LabDocumentTree): string {
  const words = wordsOf(tree.settings.language);
  const subtitle =
    tree.subtitle === ''
      ? ''
      : `#block(below: ${hasOriginAtFoot(tree) ? '1em' : '1.6em'}, text(size: 12pt, fill: luma(70))[${typstText(tree.subtitle)}])`;
  const contents = WITH_CONTENTS.has(tree.kind)
    ? `#outline(title: ${typstString(words.contents)}, depth: 2)`
    : '';
  const language = tree.titleLanguage?.toLowerCase().split('-')[0] ?? '';
  const title = /^[a-z]{2,3}$/.test(language) ? `#text(lang: "${language}")[#title()]` : '#title()';
  return `${title}\n\n${subtitle}\n\n${contents}`;
}

function closeDocument(tree: LabDocumentTree): string {
  if (hasOriginAtFoot(tree)) return '';
  return `#block(above: 2.5em, stroke: (top: 0.4pt + luma(140)), inset: (top: 6pt), width: 100%)[
#set text(size: 7.5pt, fill: luma(80))
#set par(spacing: 0.6em)
${typstText(originSummary(tree))}
]`;
}
