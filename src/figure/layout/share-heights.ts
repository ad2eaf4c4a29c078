/** How much height a panel asks for. */
export interface HeightNeed {
  /** Against the other panels. */
  readonly share: number;
  readonly leastPt: number;
  /** Rows are not spread out to fill a page: they would lose one another. */
  readonly isFixed: boolean;
}

/**
 * Heights of panels: the room by their shares, but none below its least, whatever that makes of the sum.
 *
 * @param roomPt for all of them together
 */
export function shareHeights(needs: readonly HeightNeed[], roomPt: number): readonly number[] {
  const settled = new Set(needs.filter(({ isFixed }) => isFixed));
  for (;;) {
    const free = needs.filter((need) => !settled.has(need));
    const taken = [...settled].reduce((sum, { leastPt }) => sum + leastPt, 0);
    const shares = free.reduce((sum, { share }) => sum + share, 0);
    const own = ({ share }: HeightNeed): number => ((roomPt - taken) * share) / shares;
    const tooSmall = free.filter((need) => own(need) < need.leastPt);
    if (tooSmall.length === 0) return needs.map((need) => (settled.has(need) ? need.leastPt : own(need)));
    for (const need of tooSmall) settled.add(need);
  }
}
