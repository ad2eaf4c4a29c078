import { type Command, InvalidArgumentError } from 'commander';
import type { Outcome } from '../../problem/index.ts';
import { succeed } from '../../problem/index.ts';
import { drawQuantities, judgeLinearity, stateQuantities, USUAL_LEVEL } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { quantitiesToJson } from '../json/quantities-json.ts';
import { openLab } from '../open-lab.ts';
import { takeLab, takeSeed, wholeNumber } from '../options.ts';
import { printQuantities } from '../print/quantities-text.ts';
import type { Report, Verb } from '../verb.ts';

const MOST_DRAWS = 10_000_000;

export const quantitiesVerb: Verb = {
  name: 'quantities',
  what: 'State every quantity: value, uncertainty, degrees of freedom, interval, and what each input contributes.',
  example: 'benchwright quantities labs/tow-chain --monte-carlo 100000',
  declare(command: Command): void {
    takeLab(command);
    command
      .option('--level <SHARE>', 'level of the coverage interval', readLevel, USUAL_LEVEL)
      .option(
        '--monte-carlo <N>',
        'propagate the distributions by N random draws (JCGM 101) instead of linearly (JCGM 100); adaptive for as many as two digits need',
        readDraws,
      );
    takeSeed(command);
  },
  async run(desk: Desk, [where], options): Promise<Outcome<Report>> {
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const { lab } = open.value;
    const level = Number(options.level);
    const statements = stateQuantities(lab, level);
    if (options.monteCarlo === undefined) {
      return succeed({
        json: quantitiesToJson(open.value, statements, null),
        print: (page) => printQuantities(page, lab, statements, null),
        notes: [...open.warnings, ...judgeLinearity(lab, statements)],
      });
    }
    const { signal } = desk.environment;
    const drawn = drawQuantities(lab, {
      draws: typeof options.monteCarlo === 'number' ? options.monteCarlo : 'adaptive',
      seed: Number(options.seed),
      level,
      signal,
    });
    if (!drawn.ok) return drawn;
    return succeed({
      json: quantitiesToJson(open.value, statements, drawn.value),
      print: (page) => printQuantities(page, lab, statements, drawn.value),
      notes: [...open.warnings, ...drawn.value.warnings],
    });
  },
};

function readDraws(written: string): number | 'adaptive' {
  return written === 'adaptive' ? written : wholeNumber('--monte-carlo', 1000, MOST_DRAWS)(written);
}

function readLevel(written: string): number {
  const percent = /^\s*([\d.]+)\s*%\s*$/.exec(written);
  const level = percent === null ? Number(written) : Number(percent[1]) / 100;
  if (level > 0 && level < 1) return level;
  throw new InvalidArgumentError('--level takes a share between 0 and 1, such as 0.95 or 95%.');
}
