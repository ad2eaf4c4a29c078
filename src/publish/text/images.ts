import { fail, type Outcome, succeed } from '../../problem/index.ts';

/** A picture that a document can hold. */
export interface Picture {
  readonly mediaType: 'image/png' | 'image/jpeg';
  readonly widthPixels: number;
  readonly heightPixels: number;
}

/**
 * Where a picture stands in the lab's folder, from how a text names it.
 *
 * @param written as in the text: 'set-up.png', '../photos/track.jpg'
 * @param file    of the text itself, in the lab's folder: 'text/handout.md'
 * @returns the path in the folder with forward slashes; null where it leads out of it or names another place
 */
export function pathInFolder(written: string, file: string): string | null {
  if (/^[a-z][a-z0-9+.-]*:|^[/\\]|^~|\0|\\/iu.test(written) || written === '') return null;
  const parts = file.split('/').slice(0, -1);
  for (const part of written.split('/')) {
    if (part === '' || part === '.') continue;
    if (part !== '..') parts.push(part);
    else if (parts.pop() === undefined) return null;
  }
  return parts.length === 0 ? null : parts.join('/');
}

/**
 * What kind of picture some bytes are, and how large, from their first bytes alone: PNG (ISO/IEC 15948, 11.2.2) or
 * JPEG (ITU-T T.81, B.2.2).
 *
 * @returns fails for anything else: other formats can hold scripts or are not read everywhere
 */
export function recognisePicture(bytes: Uint8Array): Outcome<Picture> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const isPng = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a].every((byte, at) => bytes[at] === byte);
  if (isPng && bytes.length >= 24) return sized('image/png', view.getUint32(16), view.getUint32(20));
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return sizeOfJpeg(view);
  return fail();
}

/** Walks the segments of a JPEG to the one that begins a frame, which holds the size. */
function sizeOfJpeg(view: DataView): Outcome<Picture> {
  let at = 2;
  while (at + 9 < view.byteLength) {
    if (view.getUint8(at) !== 0xff) return fail();
    const marker = view.getUint8(at + 1);
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) return sized('image/jpeg', view.getUint16(at + 7), view.getUint16(at + 5));
    const isBare = marker === 0xff || marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7);
    at += isBare ? (marker === 0xff ? 1 : 2) : 2 + view.getUint16(at + 2);
  }
  return fail();
}

function sized(mediaType: Picture['mediaType'], widthPixels: number, heightPixels: number): Outcome<Picture> {
  return widthPixels > 0 && heightPixels > 0 ? succeed({ mediaType, widthPixels, heightPixels }) : fail();
}
