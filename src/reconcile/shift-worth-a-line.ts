/** Share of the uncertainty from which on a systematic shift deserves a line of its own. */
const WORTH_A_LINE = 0.1;

/** Whether what a step of the reduction shifts a result by is large enough, beside its uncertainty, to be shown. */
export function isWorthALine(shift: number, standardUncertainty: number): boolean {
  return Math.abs(shift) > WORTH_A_LINE * standardUncertainty;
}
