import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { createRoom } from '../../app/compute/room.ts';
import { motionTask } from '../../app/compute/tasks/motion.ts';
import { editLabText } from '../../src/edit/index.ts';
import { valueFrom } from '../lab/slope-lab.ts';

const report = { progress: () => undefined };
const bare = { files: [], without: [] };

async function labText(name: string): Promise<string> {
  return (await readFile(`labs/${name}/lab.yaml`, 'utf8')).replace(/^trials:[\s\S]*?\n\n/m, '');
}

describe('the motion under a hand', () => {
  it('is that of the lab with the value written into its text', async () => {
    const text = await labText('draped-chain');
    const written = valueFrom(
      editLabText(text, [{ kind: 'set', at: ['quantities', 'I', 'value'], to: '3.4e-6 kg m^2' }]),
    );
    const room = createRoom();
    const motionOf = async (one: string, settings: readonly (readonly [string, string])[]) => {
      const answer = valueFrom(
        await motionTask.run(room, { source: { ...bare, text: one, settings } }, report),
      );
      return answer.figure?.panels;
    };
    const held = await motionOf(text, [['I', '3.4e-6 kg m^2']]);
    expect(held?.length).toBeGreaterThan(0);
    expect(held).toEqual(await motionOf(written, []));
    expect(held).not.toEqual(await motionOf(text, []));
  });

  it('is none where the lab is a relation', async () => {
    const source = { ...bare, text: await labText('loud-tube'), settings: [] };
    expect(valueFrom(await motionTask.run(createRoom(), { source }, report)).figure).toBeNull();
  });
});
