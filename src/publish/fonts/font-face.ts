import { sansFamily } from './sans-fonts.ts';
import { webMath } from './web-math.ts';
import { webSansItalic } from './web-sans-italic.ts';
import { webSansRegular } from './web-sans-regular.ts';

/** The family of formulas in web pages. */
export const mathFamily = 'Benchwright Math';

/** CSS that makes the faces of a web page known: 86 kB, so that figures and formulas look alike everywhere. */
export function fontFace(): string {
  return [
    face(sansFamily, 'normal', webSansRegular),
    face(sansFamily, 'italic', webSansItalic),
    face(mathFamily, 'normal', webMath),
  ].join('\n');
}

function face(family: string, style: string, data: string): string {
  return `@font-face{font-family:"${family}";font-style:${style};src:url(data:font/woff2;base64,${data}) format("woff2")}`;
}
