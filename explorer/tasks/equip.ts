import type { Task } from '../../app/compute/task.ts';
import { equipText } from '../../src/edit/index.ts';
import { type Outcome, succeed } from '../../src/problem/index.ts';
import { describeTask, type ShownLab } from './describe.ts';

export interface EquipQuestion {
  readonly text: string;
  /** Names of kits that go together; none for the lab as given. */
  readonly kits: readonly string[];
}

export interface Equipped {
  readonly text: string;
  readonly lab: ShownLab;
}

/** The lab with other equipment in place of its own: values, instruments and steps. */
export const equipTask: Task<EquipQuestion, Equipped> = {
  async run(room, { text, kits }, report): Promise<Outcome<Equipped>> {
    const equipped = equipText(text, kits);
    if (!equipped.ok) return equipped;
    const source = { text: equipped.value, files: [], settings: [], without: [] };
    const described = await describeTask.run(room, { source }, report);
    return described.ok ? succeed({ text: equipped.value, lab: described.value }) : described;
  },
};
