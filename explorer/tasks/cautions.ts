import type { LabSource } from '../../app/compute/source.ts';
import type { Task } from '../../app/compute/task.ts';
import { findExtremes } from '../../src/adapt/index.ts';
import { listStations } from '../../src/classroom/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { succeed } from '../../src/problem/index.ts';
import { writeCautions } from '../../src/publish/cautions/index.ts';
import { joinInlines, plainLine } from '../../src/publish/document/index.ts';
import { phrasesOf } from '../../src/publish/language/index.ts';
import { plannedGroups } from '../../src/run/index.ts';
import type { PageLanguage } from '../words/index.ts';

export interface CautionsQuestion {
  readonly source: LabSource;
  readonly language: PageLanguage;
  readonly decimalMark: '.' | ',';
}

/** As they stand in the documents, but for the equipment that is set on the page. */
export interface Cautions {
  readonly items: readonly string[];
  readonly closing: string;
}

/** The cautions that the numbers of this equipment ask for, and the author's own. */
export const cautionsTask: Task<CautionsQuestion, Cautions> = {
  async run(room, { source, language, decimalMark }): Promise<Outcome<Cautions>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const extremes = findExtremes(pipeline, [
      ...plannedGroups(lab).map(({ when }) => when),
      ...lab.kits.map(({ set }) => set),
      ...listStations(lab).map(({ set }) => set),
    ]);
    const written = writeCautions(
      { lab, extremes, phrases: phrasesOf(language), words: joinInlines },
      'students',
    );
    const plain = (line: Parameters<typeof plainLine>[0]): string =>
      plainLine(line, { decimalMark, notation: 'plus-minus' });
    return succeed({ items: written.items.map(plain), closing: plain(written.closing) });
  },
};
