import * as z from 'zod';
import { type ClassRehearsal, listStations, rehearseClass } from '../../classroom/index.ts';
import { createPipeline, type LabResult } from '../../lab/index.ts';
import { fail, nearestName, type Outcome, problem, succeed, warning } from '../../problem/index.ts';
import { parseMagnitude, sameDimension } from '../../quantity/index.ts';
import type { Desk } from '../desk.ts';
import { stationsToJson } from '../json/stations-json.ts';
import { openLab } from '../open-lab.ts';
import { findKits, takeKits, takeLab, takeSeed, wholeNumber } from '../options.ts';
import { printStations } from '../print/stations-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({
  groups: z.number().optional(),
  until: z.string().optional(),
  rehearsals: z.number().optional(),
  ideal: z.boolean(),
  kit: z.array(z.string()),
  seed: z.number(),
});

/** Groups up to which more of them are tried where nobody says how many there are. */
const MOST_GROUPS = 16;

export const stationsVerb: Verb = {
  name: 'stations',
  what: 'Say what each station and the whole class will find, and how many groups that takes.',
  example: 'benchwright stations labs/draped-chain --groups 12 --until "u(g_class) < 0.1 m/s^2"',
  declare(command) {
    takeLab(command);
    takeKits(command);
    takeSeed(command);
    command
      .option(
        '--groups <N>',
        'how many groups there are; the number of the lab where left out',
        wholeNumber('--groups', 1, 500),
      )
      .option('--until <CONDITION>', 'how many groups it takes: "u(g_class) < 0.1 m/s^2"')
      .option('--rehearsals <N>', 'how many classes are rehearsed', wholeNumber('--rehearsals', 4, 100_000))
      .option('--ideal', 'with all effects off', false);
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const kits = findKits(open.value.lab, options.kit);
    if (!kits.ok) return kits;
    const equipped = kits.value.length === 0 ? succeed(open.value.lab) : open.value.lab.equip(kits.value);
    if (!equipped.ok) return equipped;
    const lab = equipped.value;
    const until =
      options.until === undefined
        ? succeed(null)
        : readUntil(lab.stations.pooled?.results ?? [], options.until);
    if (!until.ok) return until;
    const wanted = options.groups ?? (until.value === null ? undefined : MOST_GROUPS);
    const stations = listStations(lab, {
      ...(wanted === undefined ? {} : { groups: wanted }),
      seed: options.seed,
    });
    const counts = Array.from({ length: stations.length }, (_, index) => index + 1);
    const rehearsed = rehearseClass(
      kits.value.length === 0 ? open.value.pipeline : createPipeline(lab),
      stations,
      {
        seed: options.seed,
        groups: until.value === null ? [stations.length] : counts,
        ...(options.rehearsals === undefined ? {} : { rehearsals: options.rehearsals }),
        ...(options.ideal ? { subset: 0 } : {}),
        signal: desk.environment.signal,
        progress: (done, total) => desk.progress.show('classes', done, total),
      },
    );
    desk.progress.clear();
    if (!rehearsed.ok) return rehearsed;
    const needed =
      until.value === null
        ? null
        : {
            text: options.until ?? '',
            groups: groupsNeeded(rehearsed.value, until.value),
            most: stations.length,
          };
    const { firstFailure } = rehearsed.value;
    return succeed({
      json: stationsToJson(
        open.value,
        rehearsed.value,
        { seed: options.seed, subset: options.ideal ? 'no effects' : 'all effects' },
        needed,
      ),
      print: (page) => printStations(page, lab, rehearsed.value, needed),
      notes: [
        ...open.warnings,
        ...(firstFailure === null
          ? []
          : [
              warning(
                'rehearsals-failed',
                firstFailure.place,
                `Some rehearsals failed, the first because: ${firstFailure.message}`,
              ),
            ]),
      ],
    });
  },
};

interface Until {
  readonly result: LabResult;
  /** SI. */
  readonly limit: number;
}

/** 'u(g_class) < 0.1 m/s^2': the scatter of a pooled result from class to class. */
function readUntil(results: readonly LabResult[], text: string): Outcome<Until> {
  const place = { step: `--until "${text}"` };
  const parts = /^\s*u\(\s*([^()]+?)\s*\)\s*(?:<=|<|≤)\s*(.+)$/.exec(text);
  if (parts === null)
    return fail(
      problem(
        'usage',
        place,
        'The condition is "u(RESULT) < LIMIT".',
        'For example: "u(g_class) < 0.1 m/s^2"',
      ),
    );
  const [, name = '', written = ''] = parts;
  const result = results.find((candidate) => candidate.name === name);
  if (result === undefined) {
    const names = results.map((candidate) => candidate.name);
    const near = nearestName(name, names);
    const advice =
      near === undefined
        ? `Pooled are ${names.join(', ') || 'none; add "pooled" to the stations of the lab file'}.`
        : `Did you mean "${near}"?`;
    return fail(problem('usage', place, `"${name}" is not a pooled result of this lab.`, advice));
  }
  const limit = parseMagnitude(written, 'interval', { placeAt: () => place });
  if (!limit.ok) return fail(...limit.problems.map((found) => ({ ...found, code: 'usage' })));
  if (!sameDimension(limit.value.unit.dimension, result.unit.dimension))
    return fail(
      problem(
        'usage',
        place,
        `"${written}" cannot be held against ${name}, which is given in ${result.unit.text}.`,
      ),
    );
  return succeed({ result, limit: limit.value.value });
}

/** The least number of groups from which on the limit is kept. */
function groupsNeeded({ pooled }: ClassRehearsal, { result, limit }: Until): number | null {
  const own = pooled.filter((outlook) => outlook.result === result);
  const last = own.findLastIndex(({ spread, rehearsals }) => rehearsals < 2 || !(spread < limit));
  return own[last + 1]?.groups ?? null;
}
