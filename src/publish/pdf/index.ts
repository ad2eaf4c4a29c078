export { createSheet, type Sheet, typstBlocks } from './blocks.ts';
export { typstInlines } from './inlines.ts';
export { describeDocument, quoted } from './page-setup.ts';
export { typeset } from './typeset.ts';
export { typstString, typstText } from './typst-string.ts';
export { writePdf } from './write-pdf.ts';
