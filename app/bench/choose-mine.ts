import { editLabText, type LabClash, type LabEdit, type MergedLab } from '../../src/edit/index.ts';

/**
 * A merged text in which some of the places that both sides changed are as they are here; the others are as outside.
 *
 * @param places of those that clash; all of them where left out
 */
export function withMine({ text, clashes }: MergedLab, places: readonly LabClash[] = clashes): string {
  const whole = places.find(({ at }) => at.length === 0)?.mine;
  if (typeof whole === 'string') return whole;
  // The last first, so that places in a list stay right.
  const edits = [...places]
    .reverse()
    .map(
      ({ at, mine }): LabEdit =>
        mine === undefined ? { kind: 'remove', at } : { kind: 'set', at, to: mine },
    );
  const edited = editLabText(text, edits);
  return edited.ok ? edited.value : text;
}
