import { sansFamily } from './sans-fonts.ts';
import { webMath } from './web-math.ts';
import { webSansBold } from './web-sans-bold.ts';
import { webSansItalic } from './web-sans-italic.ts';
import { webSansRegular } from './web-sans-regular.ts';

/** The family of formulas in web pages. */
export const mathFamily = 'Benchwright Math';

/** CSS that makes the faces of a web page known: 110 kB, so that figures and formulas look alike everywhere. */
export function fontFace(): string {
  return [
    face(sansFamily, 'normal', 'normal', webSansRegular),
    face(sansFamily, 'italic', 'normal', webSansItalic),
    face(sansFamily, 'normal', 'bold', webSansBold),
    face(mathFamily, 'normal', 'normal', webMath),
  ].join('\n');
}

function face(family: string, style: string, weight: string, data: string): string {
  return `@font-face{font-family:"${family}";font-style:${style};font-weight:${weight};src:url(data:font/woff2;base64,${data}) format("woff2")}`;
}
