import type { Box, Spot } from './scene.ts';

/** Whether a spot lies in a box, edges included. */
export function isInside({ x, y }: Spot, { left, top, right, bottom }: Box): boolean {
  return x >= left && x <= right && y >= top && y <= bottom;
}

/**
 * The parts of a line that lie in a box. A spot that is not finite breaks the line.
 *
 * Source of the method: Y.-D. Liang, B. A. Barsky, ACM Trans. Graph. 3 (1984) 1, doi:10.1145/357332.357333
 */
export function clipLine(spots: readonly Spot[], box: Box): readonly (readonly Spot[])[] {
  const pieces: Spot[][] = [];
  let piece: Spot[] = [];
  const finish = (): void => {
    if (piece.length > 1) pieces.push(piece);
    piece = [];
  };
  for (let i = 1; i < spots.length; i++) {
    const part = clipSegment(spots[i - 1], spots[i], box);
    if (part === null) {
      finish();
      continue;
    }
    const last = piece.at(-1);
    if (last === undefined || last.x !== part[0].x || last.y !== part[0].y) {
      finish();
      piece.push(part[0]);
    }
    piece.push(part[1]);
  }
  finish();
  return pieces;
}

function clipSegment(from: Spot, to: Spot, box: Box): readonly [Spot, Spot] | null {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  if (!Number.isFinite(dx) || !Number.isFinite(dy)) return null;
  let enter = 0;
  let leave = 1;
  const edges: readonly (readonly [number, number])[] = [
    [-dx, from.x - box.left],
    [dx, box.right - from.x],
    [-dy, from.y - box.top],
    [dy, box.bottom - from.y],
  ];
  for (const [speed, distance] of edges) {
    if (speed === 0) {
      if (distance < 0) return null;
    } else if (speed < 0) enter = Math.max(enter, distance / speed);
    else leave = Math.min(leave, distance / speed);
  }
  if (enter > leave) return null;
  const at = (share: number): Spot => intoBox({ x: from.x + share * dx, y: from.y + share * dy }, box);
  return [at(enter), at(leave)];
}

/** Rounding can leave a cut end beside the edge that cut it. */
function intoBox({ x, y }: Spot, { left, top, right, bottom }: Box): Spot {
  return { x: Math.min(Math.max(x, left), right), y: Math.min(Math.max(y, top), bottom) };
}

/**
 * The part of a polygon that lies in a box; empty where there is none.
 *
 * Source of the method: I. E. Sutherland, G. W. Hodgman, Commun. ACM 17 (1974) 32, doi:10.1145/360767.360802
 */
export function clipPolygon(spots: readonly Spot[], box: Box): readonly Spot[] {
  const edges: readonly ((spot: Spot) => number)[] = [
    ({ x }) => x - box.left,
    ({ x }) => box.right - x,
    ({ y }) => y - box.top,
    ({ y }) => box.bottom - y,
  ];
  let polygon = spots;
  for (const inside of edges) {
    const cut: Spot[] = [];
    polygon.forEach((spot, index) => {
      const before = polygon[(index + polygon.length - 1) % polygon.length];
      const own = inside(spot);
      const previous = inside(before);
      if (own >= 0 !== previous >= 0) {
        const share = previous / (previous - own);
        cut.push({ x: before.x + share * (spot.x - before.x), y: before.y + share * (spot.y - before.y) });
      }
      if (own >= 0) cut.push(spot);
    });
    polygon = cut;
  }
  return polygon.map((spot) => intoBox(spot, box));
}
