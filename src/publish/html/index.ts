export { createPage, htmlBlocks, type Page } from './blocks.ts';
export { htmlInlines } from './inlines.ts';
export { pageStyle } from './style.ts';
export { openPage, titleLanguage, writeHtml } from './write-html.ts';
