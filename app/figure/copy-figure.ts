import { type Figure, figureToSvg, lightTheme, sizes } from '../../src/figure/index.ts';

/** Pixels a point: enough for a slide or a printed page. */
const PNG_SCALE = 3;

/** The figure as a document would have it, on white paper. */
function svgOf(figure: Figure): string {
  return figureToSvg(figure, { theme: lightTheme, size: sizes.screen });
}

export async function copySvg(figure: Figure): Promise<void> {
  await navigator.clipboard.writeText(svgOf(figure));
}

export async function copyPng(figure: Figure): Promise<void> {
  await navigator.clipboard.write([new ClipboardItem({ 'image/png': pngOf(figure) })]);
}

async function pngOf(figure: Figure): Promise<Blob> {
  const address = URL.createObjectURL(new Blob([svgOf(figure)], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.naturalWidth * PNG_SCALE;
    canvas.height = image.naturalHeight * PNG_SCALE;
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((done, failed) =>
      canvas.toBlob((blob) => (blob === null ? failed(new Error('no picture')) : done(blob)), 'image/png'),
    );
  } finally {
    URL.revokeObjectURL(address);
  }
}
