export { citationNumbers } from './citations.ts';
export { figureSvg, measureSvg } from './figure-image.ts';
export { authorFormula, equationOf, type Formula, formulaOf } from './formula.ts';
export { createHeadingLevels } from './heading-levels.ts';
export { originLines } from './origin-lines.ts';
export { paddingOfColumn, printValue } from './print-value.ts';
export { safeLink } from './safe-link.ts';
export { type WriterWords, wordsOf } from './words.ts';
export { cleanText, xmlAttribute, xmlText } from './xml-text.ts';
