import { type Figure, figureToSvg, fontStack, type Size, sizes } from '../../figure/index.ts';
import { sansFamily } from '../fonts/index.ts';

/** A figure as SVG set in the family that travels with the documents. */
export function figureSvg(figure: Figure, idPrefix: string, size: Size = sizes.column): string {
  const first = `'${fontStack[0]}'`;
  return figureToSvg(figure, { size, idPrefix }).replace(
    `font-family="${first}`,
    `font-family="'${sansFamily}', ${first}`,
  );
}

/** Width over height of an SVG that `figureSvg` wrote, in points. */
export function measureSvg(svg: string): { readonly widthPt: number; readonly heightPt: number } {
  const found = /width="([\d.]+)pt" height="([\d.]+)pt"/.exec(svg);
  return {
    widthPt: Number(found?.[1] ?? sizes.column.widthPt),
    heightPt: Number(found?.[2] ?? sizes.column.heightPt),
  };
}
