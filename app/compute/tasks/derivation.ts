import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { checkDerivation } from '../../../src/run/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';

export interface DerivationQuestion {
  readonly source: LabSource;
}

/** What is known of one line, as the file has it. */
export interface CheckedLine {
  readonly text: string;
  readonly isTrue: boolean;
  /** Both sides where the line is false, SI units. */
  readonly sides: { readonly left: number; readonly right: number; readonly ratio: number } | null;
  /** Whether an earlier line is false already. */
  readonly followsFalse: boolean;
}

export interface DerivationAnswer {
  readonly lines: readonly CheckedLine[];
  /** Settings that each line was tried at, the author's among them. */
  readonly settings: number;
}

/** Whether each line of the derivation is true along the ideal motion. */
export const derivationTask: Task<DerivationQuestion, DerivationAnswer> = {
  async run(room, { source }): Promise<Outcome<DerivationAnswer>> {
    const opened = await room.open(source);
    if (!opened.ok) return opened;
    const checked = checkDerivation(opened.value.pipeline);
    if (!checked.ok) return checked;
    const { lines, firstFalse, settings } = checked.value;
    return succeed(
      {
        settings,
        lines: lines.map((one, index) => ({
          text: one.line.text,
          isTrue: one.verdict === 'true',
          sides: one.verdict === 'true' ? null : { left: one.left, right: one.right, ratio: one.ratio },
          followsFalse: firstFalse !== null && index > firstFalse,
        })),
      },
      checked.warnings,
    );
  },
};
