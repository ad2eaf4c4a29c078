import { afterLineEnd, lineEnd } from './records.ts';

const headLines = 70;
const bodyLines = 50;
const tailLines = 40;
const longestLine = 20_000;

/**
 * Lines that stand for the whole text when its marks are judged: the first ones, some from evenly spread
 * places, the last ones. Blank lines are left out; a short text is taken whole.
 */
export function sampleLines(utf8: Uint8Array): string[] {
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  const lines: string[] = [];
  let at = 0;
  const take = (limit: number): void => {
    for (let taken = 0; taken < limit && at < utf8.length; ) {
      const end = lineEnd(utf8, at);
      const text = decoder.decode(utf8.subarray(at, Math.min(end, at + longestLine)));
      if (text.trim() !== '') {
        lines.push(text);
        taken++;
      }
      at = afterLineEnd(utf8, end);
    }
  };
  const skipTo = (target: number): void => {
    if (target > at) at = afterLineEnd(utf8, lineEnd(utf8, target));
  };
  take(headLines);
  const rest = utf8.length - at;
  const typical = at / headLines;
  if (rest <= typical * (bodyLines + tailLines)) {
    take(bodyLines + tailLines);
    return lines;
  }
  const start = at;
  for (let place = 1; place <= bodyLines; place++) {
    skipTo(start + Math.floor((rest * place) / (bodyLines + 1)));
    take(1);
  }
  skipTo(utf8.length - Math.ceil(typical * tailLines));
  take(tailLines);
  return lines;
}
