import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';

/** The text of a file as UTF-8, whatever it was written in. */
export interface DecodedText {
  /** Without byte-order mark and without the padding of zeros that some loggers leave at the end. */
  readonly utf8: Uint8Array;
  /** Label of the Encoding Standard, as found or told. */
  readonly encoding: string;
  readonly byteOrderMark: boolean;
  /** Byte sequences that the encoding does not allow, replaced by U+FFFD; counted in UTF-8 only. */
  readonly badSequences: number;
}

/**
 * Finds out how a text file is encoded and brings it to UTF-8.
 *
 * Evidence, in this order: a byte-order mark; zeros on every other byte (UTF-16); valid UTF-8; otherwise
 * windows-1252, which has a character for each byte that such files hold ('µ', '°', '²').
 *
 * Fails where the told encoding is not known, and where the bytes are not text.
 */
export function decodeText(bytes: Uint8Array, file: string, told: string | undefined): Outcome<DecodedText> {
  const mark = byteOrderMark(bytes);
  const body = mark === null ? bytes : bytes.subarray(mark.length);
  if (told !== undefined) {
    const decoder = decoderOf(told);
    if (decoder === null) {
      const message = `"${told}" is not the name of an encoding. Known are utf-8, utf-16le, utf-16be, windows-1252 and the other labels of the Encoding Standard.`;
      return fail(problem('unknown-encoding', { file }, message));
    }
    const plain = decoder.encoding === 'utf-8';
    const utf8 = plain ? body : new TextEncoder().encode(decoder.decode(body));
    return asText(utf8, decoder.encoding, mark !== null, plain ? countInvalid(body).bad : 0, file);
  }
  const encoding = mark?.encoding ?? wideEncoding(body);
  if (encoding === 'utf-16le' || encoding === 'utf-16be') {
    const whole = body.subarray(0, body.length - (body.length % 2));
    const utf8 = new TextEncoder().encode(new TextDecoder(encoding).decode(whole));
    return asText(utf8, encoding, mark !== null, 0, file);
  }
  const { good, bad } = countInvalid(body);
  if (bad === 0 || mark !== null || good > bad) {
    return asText(body, 'utf-8', mark !== null, bad, file);
  }
  const utf8 = new TextEncoder().encode(new TextDecoder('windows-1252').decode(body));
  return asText(utf8, 'windows-1252', false, 0, file);
}

function asText(
  utf8: Uint8Array,
  encoding: string,
  hasMark: boolean,
  badSequences: number,
  file: string,
): Outcome<DecodedText> {
  let end = utf8.length;
  while (end > 0 && (utf8[end - 1] === 0 || utf8[end - 1] === 0x1a)) end--;
  const text = utf8.subarray(0, end);
  if (looksBinary(text)) {
    const message = 'This is not a text file: it is full of control characters.';
    const advice = 'Export the readings as delimited text (.csv, .txt), .xlsx or .ods.';
    return fail(problem('not-a-table', { file }, message, advice));
  }
  return succeed({ utf8: text, encoding, byteOrderMark: hasMark, badSequences });
}

function byteOrderMark(bytes: Uint8Array): { encoding: string; length: number } | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return { encoding: 'utf-8', length: 3 };
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { encoding: 'utf-16le', length: 2 };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { encoding: 'utf-16be', length: 2 };
  return null;
}

function decoderOf(label: string): InstanceType<typeof TextDecoder> | null {
  try {
    return new TextDecoder(label.trim());
  } catch {
    return null;
  }
}

/** UTF-16 without a mark: text of digits and separators has a zero in every other byte. */
function wideEncoding(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const pairs = Math.min(bytes.length, 8192) >> 1;
  let even = 0;
  let odd = 0;
  for (let pair = 0; pair < pairs; pair++) {
    if (bytes[2 * pair] === 0) even++;
    if (bytes[2 * pair + 1] === 0) odd++;
  }
  if (odd > 0.6 * pairs && even < 0.1 * pairs) return 'utf-16le';
  if (even > 0.6 * pairs && odd < 0.1 * pairs) return 'utf-16be';
  return null;
}

/** Counts the well-formed sequences of two or more bytes, and the malformed ones (Unicode, table 3-7). */
function countInvalid(bytes: Uint8Array): { good: number; bad: number } {
  let good = 0;
  let bad = 0;
  const length = bytes.length;
  // Four bytes at a time where all of them are ASCII, which is nearly everywhere.
  const skipped = Math.min(length, (4 - (bytes.byteOffset & 3)) & 3);
  const count = (length - skipped) >> 2;
  const words = new Uint32Array(bytes.buffer, count === 0 ? 0 : bytes.byteOffset + skipped, count);
  let at = 0;
  while (at < length) {
    const lead = bytes[at];
    if (lead < 0x80) {
      at++;
      if (((at - skipped) & 3) === 0 && at >= skipped) {
        let word = (at - skipped) >> 2;
        while (word < words.length && (words[word] & 0x80808080) === 0) word++;
        at = skipped + 4 * word;
      }
      continue;
    }
    const following =
      lead >= 0xc2 && lead <= 0xdf
        ? 1
        : lead >= 0xe0 && lead <= 0xef
          ? 2
          : lead >= 0xf0 && lead <= 0xf4
            ? 3
            : 0;
    const low = lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
    const high = lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
    let valid = following > 0 && at + following < length;
    for (let next = 1; valid && next <= following; next++) {
      const byte = bytes[at + next];
      valid = next === 1 ? byte >= low && byte <= high : byte >= 0x80 && byte <= 0xbf;
    }
    // A file cut off within its last character is still what it was.
    const cutOff = !valid && following > 0 && at + following >= length;
    if (valid || cutOff) good++;
    else bad++;
    at += valid ? following + 1 : 1;
    if (cutOff) break;
  }
  return { good, bad };
}

function looksBinary(utf8: Uint8Array): boolean {
  const length = Math.min(utf8.length, 65_536);
  let control = 0;
  for (let at = 0; at < length; at++) {
    const byte = utf8[at];
    if (byte < 32 && !(byte >= 9 && byte <= 13) && byte !== 0x1b && byte !== 0x1a) control++;
  }
  return control > 0.01 * length;
}
