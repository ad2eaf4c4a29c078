import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { sansFamily, sansFonts } from '../fonts/index.ts';

let ready: Promise<void> | null = null;

/** The rasteriser's own program, which its package holds as a file beside it. */
function prepare(): Promise<void> {
  ready ??= initWasm(readFile(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm')));
  return ready;
}

/** Three dots a point: 216 to an inch, fine enough for print. */
const DOTS_PER_POINT = 3;

/** Documents of one lab show the same figures: each is drawn once, as far as so many are kept. */
const MOST_KEPT = 64;
const kept = new Map<string, Uint8Array>();

/** SVG as PNG, for programs that draw no SVG; no font of the machine is used, so the dots are the same everywhere. */
export async function rasterise(svg: string, widthPt: number): Promise<Uint8Array> {
  const known = kept.get(svg);
  if (known !== undefined) return known;
  await prepare();
  const drawing = new Resvg(svg, {
    fitTo: { mode: 'width', value: Math.round(widthPt * DOTS_PER_POINT) },
    font: { loadSystemFonts: false, fontBuffers: [...sansFonts()], defaultFontFamily: sansFamily },
  });
  const image = drawing.render();
  const png = Uint8Array.from(image.asPng());
  image.free();
  drawing.free();
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(svg, png);
  return png;
}
