export { fontFace, mathFamily } from './font-face.ts';
export { sansFamily, sansFonts } from './sans-fonts.ts';
