import { renameIn } from './symbol-offsets.ts';

/** Directives of a text that name symbols, up to their label. */
const DIRECTIVE = /(?<![\p{L}\p{Nd}:\\]):{1,3}(value|symbol|formula|figure|table)(?=[[{])/gu;

/**
 * Gives a symbol another name in a text of the author's (docs/text.md): in the directives that name values, symbols,
 * formulas, and the settings and results of figures. Words for readers are left alone.
 */
export function renameInProse(text: string, from: string, to: string): string {
  let out = '';
  let done = 0;
  for (const match of text.matchAll(DIRECTIVE)) {
    if (match.index < done) continue;
    let end = match.index + match[0].length;
    out += text.slice(done, end);
    done = end;
    if (text[end] === '[') {
      end = closingOf(text, end, '[', ']');
      if (end < 0) continue;
      out += `[${inLabel(text.slice(done + 1, end), from, to)}]`;
      done = ++end;
    }
    if (text[end] === '{') {
      end = text.indexOf('}', end);
      if (end < 0) continue;
      out += inAttributes(text.slice(done, end + 1), from, to);
      done = end + 1;
    }
  }
  return out + text.slice(done);
}

/** A name alone, or a formula; a caption is neither, and what cannot be read stays as it is. */
function inLabel(label: string, from: string, to: string): string {
  return /^[^=*+/^()]*\s[^=*+/^()]*$/u.test(label.trim()) ? label : (renameIn(label, from, to) ?? label);
}

/** `result=k2` and `at="L = 0.9 m, R = 2 cm"` name symbols; `of` names a kind of figure or line. */
function inAttributes(written: string, from: string, to: string): string {
  return written
    .replace(/(\bresult\s*=\s*)("[^"]*"|'[^']*'|[^\s}"']+)/gu, (_, key: string, value: string) => {
      const bare = value.replace(/^["']|["']$/gu, '');
      return bare === from ? `${key}${value.replace(from, to)}` : `${key}${value}`;
    })
    .replace(/(\bat\s*=\s*)("[^"]*"|'[^']*')/gu, (_, key: string, value: string) => {
      const renamed = value.replace(
        /([\p{L}_][\p{L}\p{Nd}_]*)(\s*=)/gu,
        (whole, name: string, equals: string) => (name === from ? `${to}${equals}` : whole),
      );
      return key + renamed;
    });
}

function closingOf(text: string, open: number, left: string, right: string): number {
  let depth = 0;
  for (let at = open; at < text.length; at++) {
    if (text[at] === '\\') at++;
    else if (text[at] === left) depth++;
    else if (text[at] === right && --depth === 0) return at;
    else if (text[at] === '\n' && text[at + 1] === '\n') return -1;
  }
  return -1;
}
