import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { createRoom } from '../../app/compute/room.ts';
import { ledgerTask } from '../../app/compute/tasks/ledger.ts';
import { editLabText } from '../../src/edit/index.ts';
import { valueFrom } from '../lab/slope-lab.ts';

const report = { progress: () => undefined };

describe('the ledger under a hand', () => {
  it('has the lines of the lab with that value written into its text, at once and complete alike', async () => {
    const text = (await readFile('labs/draped-chain/lab.yaml', 'utf8')).replace(/^trials:[\s\S]*?\n\n/m, '');
    const written = valueFrom(
      editLabText(text, [{ kind: 'set', at: ['quantities', 'I', 'value'], to: '3.4e-6 kg m^2' }]),
    );
    const room = createRoom();
    const bare = { files: [], without: [] };
    const held = { ...bare, text, settings: [['I', '3.4e-6 kg m^2']] as const };
    const [atOnce, complete, asWritten] = [
      valueFrom(await ledgerTask.run(room, { source: held, pass: 'at once' }, report)),
      valueFrom(await ledgerTask.run(room, { source: held, pass: 'complete' }, report)),
      valueFrom(
        await ledgerTask.run(
          room,
          { source: { ...bare, text: written, settings: [] }, pass: 'complete' },
          report,
        ),
      ),
    ];
    expect(atOnce.main).toEqual(complete.main);
    const lines = ({ ledgers }: typeof atOnce) =>
      ledgers.map(({ result, theory, ideal, effects, full }) => ({
        result: result.name,
        numbers: [theory?.value ?? 0, ideal.value, ...effects.map(({ share }) => share), full.value],
      }));
    expect(lines(atOnce)).toEqual(lines(complete));
    expect(lines(complete)).toEqual(lines(asWritten));
    expect(atOnce.ledgers.every(({ full }) => Number.isNaN(full.standardUncertainty))).toBe(true);
    expect(complete.ledgers.every(({ full }) => full.standardUncertainty > 0)).toBe(true);
  });

  it('that holds a value of another dimension is told so, as the text would be', async () => {
    const text = await readFile('labs/draped-chain/lab.yaml', 'utf8');
    const source = { text, files: [], settings: [['I', '3 s']] as const, without: [] };
    const answer = await ledgerTask.run(createRoom(), { source, pass: 'at once' }, report);
    expect(answer.ok ? '' : answer.problems[0]?.message).toMatch(/dimension of time/);
  });
});
