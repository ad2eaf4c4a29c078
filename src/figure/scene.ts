import type { SeriesRole } from './figure.ts';
import type { RichText } from './rich-text.ts';
import type { Scale } from './scale.ts';

/** A place on the paper: points from the left and from the top. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Stroke {
  readonly colour: string;
  readonly widthPt: number;
  /** Strokes and gaps, points; empty for an unbroken line. */
  readonly dashPt: readonly number[];
}

export interface Fill {
  readonly colour: string;
  readonly opacity: number;
}

/** Straight lines through spots; several pieces share one look. */
export interface PathNode {
  readonly kind: 'path';
  readonly pieces: readonly (readonly Spot[])[];
  readonly closed: boolean;
  readonly stroke: Stroke | null;
  readonly fill: Fill | null;
}

export interface CircleNode {
  readonly kind: 'circle';
  readonly at: Spot;
  readonly radius: number;
  readonly stroke: Stroke | null;
  readonly fill: Fill | null;
}

export interface TextNode {
  readonly kind: 'text';
  /** On the baseline. */
  readonly at: Spot;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly sizePt: number;
  readonly colour: string;
  readonly text: RichText;
}

/** What belongs together: the marks of one series, the ticks of one axis. */
export interface GroupNode {
  readonly kind: 'group';
  /** What it is: 'points', 'curve', 'x axis', 'legend'. */
  readonly part: string;
  readonly role: SeriesRole | null;
  readonly nodes: readonly SceneNode[];
}

export type SceneNode = PathNode | CircleNode | TextNode | GroupNode;

/** A panel on the paper: where its plot is, and how places and values belong together; for reading at a point. */
export interface PlacedPanel {
  readonly box: Box;
  readonly x: Scale;
  readonly y: Scale;
}

/** A figure laid out: everything has its place, nothing is left to whoever draws it. */
export interface Scene {
  readonly name: string;
  readonly title: string;
  readonly description: string;
  readonly language: string;
  readonly widthPt: number;
  readonly heightPt: number;
  readonly paper: string;
  readonly nodes: readonly SceneNode[];
  readonly panels: readonly PlacedPanel[];
}

export function group(part: string, nodes: readonly SceneNode[], role: SeriesRole | null = null): GroupNode {
  return { kind: 'group', part, role, nodes };
}
