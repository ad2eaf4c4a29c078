export { type Bibliography, noSources, readBibliography, type Source } from './bibliography.ts';
export { pathInFolder } from './images.ts';
export { formatSource } from './references.ts';
export { createTexts, imagesIn, type TextFile, type TextFiles } from './texts.ts';
export { translateLab } from './translate-lab.ts';
