import { editLabText, type LabEdit } from '../../src/edit/index.ts';
import { type Lab, readLab } from '../../src/lab/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { formatNumber, fromSI } from '../../src/quantity/index.ts';
import { LAB_FILE } from '../bench/lab-file.ts';

/**
 * The lab as if it had never named some of its effects: their quantities have, exactly, the values that switch them
 * off. What the others explain is then shared among them alone.
 */
export function withoutEffects(text: string, names: readonly string[]): Outcome<string> {
  const read = readLab(text, LAB_FILE);
  if (!read.ok) return read;
  const lab = read.value;
  const effects = lab.effects.filter(({ name }) => names.includes(name));
  const off = effects.flatMap((effect) => effect.off);
  const indices = new Set(off.map(({ quantity }) => quantity.index));
  const edits: LabEdit[] = [
    ...effects.map(({ name }): LabEdit => ({ kind: 'remove', at: ['effects', name] })),
    ...off.map(({ quantity, value }): LabEdit => {
      // Full precision: what switches an effect off must do so to the last bit.
      const number = formatNumber(fromSI(value, quantity.unit, 'point'), { significant: 17 });
      const written = `${number.replace('−', '-')} ${quantity.unit.text}`.trim();
      return { kind: 'set', at: ['quantities', quantity.name], to: { is: quantity.is, value: written } };
    }),
    ...correlationsOf(lab, indices),
    // What the trials may correct plays no part in a ledger, and may not name what is exact now.
    ...(lab.infer.free.length > 0 ? [{ kind: 'remove', at: ['infer'] } as const] : []),
  ];
  return editLabText(text, edits);
}

/** An exact quantity varies with no other. The last first, so that places in the list stay right. */
function correlationsOf({ correlations }: Lab, indices: ReadonlySet<number>): readonly LabEdit[] {
  return correlations
    .flatMap(({ between }, place): LabEdit[] =>
      between.some((index) => indices.has(index)) ? [{ kind: 'remove', at: ['correlations', place] }] : [],
    )
    .reverse();
}
