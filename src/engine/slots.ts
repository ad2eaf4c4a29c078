import type { Slot } from '../wasm/index.ts';

/** Gives out the places in the module's memory. */
export class SlotList {
  count = 0;

  /** A place that changes along a motion. */
  moving(): Slot {
    return { index: this.count++, fixed: false };
  }

  /** A place that is written once a draw. */
  fixed(): Slot {
    return { index: this.count++, fixed: true };
  }

  movingMany(count: number): readonly Slot[] {
    return Array.from({ length: count }, () => this.moving());
  }
}
