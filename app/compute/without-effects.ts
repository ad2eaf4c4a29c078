import { readLab } from '../../src/lab/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { formatNumber, fromSI } from '../../src/quantity/index.ts';
import { editLabText, type LabEdit } from '../bench/editing.ts';
import { LAB_FILE } from '../bench/reading.ts';

/**
 * The lab as if it had never named some of its effects: their quantities have, exactly, the values that switch them
 * off. What the others explain is then shared among them alone.
 */
export function withoutEffects(text: string, names: readonly string[]): Outcome<string> {
  const lab = readLab(text, LAB_FILE);
  if (!lab.ok) return lab;
  const edits = lab.value.effects
    .filter(({ name }) => names.includes(name))
    .flatMap(({ name, off }): LabEdit[] => [
      { kind: 'remove', at: ['effects', name] },
      ...off.map(({ quantity, value }): LabEdit => {
        // Full precision: what switches an effect off must do so to the last bit.
        const number = formatNumber(fromSI(value, quantity.unit, 'point'), { significant: 17 });
        const written = `${number} ${quantity.unit.text}`.trim();
        return { kind: 'set', at: ['quantities', quantity.name], to: { is: quantity.is, value: written } };
      }),
    ]);
  return editLabText(text, edits);
}
