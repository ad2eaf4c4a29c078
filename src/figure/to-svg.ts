import { smallScale } from './measure-text.ts';
import type { RichText, Run } from './rich-text.ts';
import type { Fill, PathNode, Scene, SceneNode, Spot, Stroke, TextNode } from './scene.ts';
import { fontStack } from './theme.ts';

export interface SvgOptions {
  /** Identifiers in the SVG start with it; to be given where two figures of one name stand in one document. */
  readonly idPrefix?: string;
  /** A family that takes precedence over `fontStack`: the name under which a document embeds the font. */
  readonly family?: string;
  /** CSS that makes the font known, as `@font-face { … }`, where the figure stands alone. It comes from the caller's own code. */
  readonly fontFace?: string;
}

/** How far raised and lowered runs leave the baseline, against the size of the text. */
const RISE = -0.36;
const DROP = 0.2;

/** Finer than any screen or press, and equal on all machines after rounding. */
const DECIMALS = 1e4;

/**
 * A scene as an SVG document: no script, no style sheet but the font's, no link, same bytes for the same scene.
 *
 * It is one image with a name (`title`) and a text that stands for it (`desc`).
 */
export function toSvg(scene: Scene, options: SvgOptions = {}): string {
  const id = (options.idPrefix ?? '') + scene.name;
  const width = number(scene.widthPt);
  const height = number(scene.heightPt);
  const families = options.family === undefined ? fontStack : [options.family, ...fontStack];
  const font = families
    .map((family) => (family === 'sans-serif' ? family : `'${escapeAttribute(family)}'`))
    .join(', ');
  const style = options.fontFace === undefined ? '' : `<style>${escapeText(options.fontFace)}</style>\n`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}pt" height="${height}pt" viewBox="0 0 ${width} ${height}"` +
    ` role="img" aria-labelledby="${escapeAttribute(`${id}-title`)} ${escapeAttribute(`${id}-desc`)}"` +
    ` lang="${escapeAttribute(scene.language)}" xml:lang="${escapeAttribute(scene.language)}" xml:space="preserve" font-family="${font}">\n` +
    `<title id="${escapeAttribute(`${id}-title`)}">${escapeText(scene.title)}</title>\n` +
    `<desc id="${escapeAttribute(`${id}-desc`)}">${escapeText(scene.description)}</desc>\n` +
    style +
    `<rect width="${width}" height="${height}" fill="${scene.paper}"/>\n` +
    `${scene.nodes.map((node) => writeNode(node)).join('\n')}\n</svg>\n`
  );
}

function writeNode(node: SceneNode): string {
  switch (node.kind) {
    case 'group': {
      const role = node.role === null ? '' : ` data-series="${node.role}"`;
      return `<g data-part="${escapeAttribute(node.part)}"${role}>\n${node.nodes.map(writeNode).join('\n')}\n</g>`;
    }
    case 'circle':
      return `<circle cx="${number(node.at.x)}" cy="${number(node.at.y)}" r="${number(node.radius)}"${paint(node.stroke, node.fill)}/>`;
    case 'path':
      return `<path d="${writePieces(node)}"${paint(node.stroke, node.fill)}/>`;
    case 'text':
      return writeText(node);
  }
}

function writePieces({ pieces, closed }: PathNode): string {
  return pieces.map((piece) => writePiece(piece) + (closed ? 'Z' : '')).join('');
}

function writePiece(spots: readonly Spot[]): string {
  return spots
    .map(({ x, y }, index) => `${index === 0 ? 'M' : index === 1 ? 'L' : ' '}${number(x)},${number(y)}`)
    .join('');
}

function paint(stroke: Stroke | null, fill: Fill | null): string {
  const filled =
    fill === null
      ? ' fill="none"'
      : ` fill="${fill.colour}"${fill.opacity === 1 ? '' : ` fill-opacity="${number(fill.opacity)}"`}`;
  if (stroke === null) return filled;
  const dash = stroke.dashPt.length === 0 ? '' : ` stroke-dasharray="${stroke.dashPt.map(number).join(' ')}"`;
  return `${filled} stroke="${stroke.colour}" stroke-width="${number(stroke.widthPt)}" stroke-linejoin="round"${dash}`;
}

function writeText({ at, anchor, sizePt, colour, text }: TextNode): string {
  const place = `x="${number(at.x)}" y="${number(at.y)}"`;
  const anchored = anchor === 'start' ? '' : ` text-anchor="${anchor}"`;
  return `<text ${place} font-size="${number(sizePt)}"${anchored} fill="${colour}">${writeRuns(text, sizePt)}</text>`;
}

/** Runs as spans; `dy` moves all that follows, so each change of level is undone by the next. */
function writeRuns(text: RichText, sizePt: number): string {
  let level = 0;
  return text
    .map((run) => {
      const target = levelOf(run) * sizePt;
      const dy = target - level;
      level = target;
      const attributes =
        (dy === 0 ? '' : ` dy="${number(dy)}"`) +
        (run.level === 'base' ? '' : ` font-size="${number(sizePt * smallScale)}"`) +
        (run.style === 'italic' ? ' font-style="italic"' : '');
      return attributes === '' ? escapeText(run.text) : `<tspan${attributes}>${escapeText(run.text)}</tspan>`;
    })
    .join('');
}

function levelOf({ level }: Run): number {
  return level === 'base' ? 0 : level === 'raised' ? RISE : DROP;
}

function number(value: number): string {
  const rounded = Math.round(value * DECIMALS) / DECIMALS;
  // No minus before a zero.
  return String(rounded + 0);
}

/**
 * Text for XML. Characters that XML 1.0 does not allow are replaced; so are those that turn the direction of writing,
 * with which a label could pretend to say something else.
 */
function escapeText(text: string): string {
  return text
    .replace(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, '\ufffd')
    .replace(/[\u202a-\u202e\u2066-\u2069]/gu, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;');
}

function escapeAttribute(text: string): string {
  return escapeText(text).replace(/"/g, '&quot;').replace(/\s/g, ' ');
}
