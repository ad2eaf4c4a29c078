/**
 * Distances of a layout against the font size. A line of text needs about 1.36 of it (ascent 1.07 and descent 0.29 in
 * Noto Sans, of which capitals and digits take 0.71).
 */
export const SPACE = {
  /** Around the whole figure. */
  margin: 0.5,
  /** From one baseline to the next. */
  line: 1.5,
  /** From the top of a line to its baseline. */
  baseline: 1.08,
  /** From the legend to the first panel. */
  belowHeader: 0.5,
  /** From the last line of a heading to the plot. */
  aboveBox: 0.45,
  tick: 0.35,
  /** From the end of a tick to its label. */
  beside: 0.3,
  /** From one panel to the next. */
  betweenPanels: 0.8,
  /** From the middle of a line of digits to its baseline. */
  middle: 0.36,
  /** Between two tick labels side by side, and one above the other. */
  betweenLabels: 1,
  betweenLines: 0.55,
  /** From one tick to the next where there is plenty of room. */
  betweenTicks: 2.7,
} as const;
