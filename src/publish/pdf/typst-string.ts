import { cleanText } from '../writing/index.ts';

/** Text as a string of the typesetter's language: nothing in it is read as markup or code. */
export function typstString(text: string): string {
  const escaped = cleanText(text)
    .replace(/\\/g, '\\\\')
    .replace(/"/g, '\\"')
    .replace(/\r\n?|\n/g, '\\n')
    .replace(/\t/g, '\\t');
  return `"${escaped}"`;
}

/** Text as content: a string that stands in markup. */
export function typstText(text: string): string {
  return text === '' ? '' : `#${typstString(text)};`;
}
