export { createPage, htmlBlocks, type Page } from './blocks.ts';
export { bytesToBase64 } from './bytes-to-base64.ts';
export { htmlInlines } from './inlines.ts';
export { pageStyle } from './style.ts';
export { openPage, titleLanguage, writeHtml } from './write-html.ts';
