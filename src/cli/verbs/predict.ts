import * as z from 'zod';
import type { Setting } from '../../lab/index.ts';
import { inItsUnit } from '../../lab/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import { allEffects, predict } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { predictionToJson } from '../json/prediction-json.ts';
import { openLab } from '../open-lab.ts';
import { gather, readSettings, subsetWithout, takeLab, takeSettings } from '../options.ts';
import { printPrediction } from '../print/prediction-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({ ideal: z.boolean(), without: z.array(z.string()), set: z.array(z.string()) });

export const predictVerb: Verb = {
  name: 'predict',
  what: 'Say what theory and the model expect, with the uncertainty that the quantities bring.',
  example: 'benchwright predict labs/tow-chain --without "rolling resistance" --set L=1.4m',
  declare(command) {
    takeLab(command);
    takeSettings(command);
    command
      .option('--ideal', 'with all effects off', false)
      .option('--without <EFFECT>', 'with this effect off (repeatable)', gather, []);
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    if (options.ideal && options.without.length > 0) {
      return fail(
        problem('usage', {}, '--ideal switches all effects off, so --without cannot be given beside it.'),
      );
    }
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const { lab, pipeline } = open.value;
    const settings = readSettings(lab, options.set);
    if (!settings.ok) return settings;
    const subset = options.ideal ? succeed(0) : subsetWithout(lab, options.without);
    if (!subset.ok) return subset;
    const prediction = predict(pipeline, { subset: subset.value, settings: settings.value });
    if (!prediction.ok) return prediction;
    const off = lab.effects
      .filter((_, index) => (subset.value & (1 << index)) === 0)
      .map((effect) => effect.name);
    return succeed({
      json: predictionToJson(open.value, prediction.value, { off, settings: settings.value }),
      print: (page) =>
        printPrediction(
          page,
          lab,
          prediction.value,
          sayConditions(subset.value === allEffects(lab), off, lab.effects.length, settings.value),
        ),
      notes: [...open.warnings, ...prediction.warnings],
    });
  },
};

/** Under which conditions the prediction stands: 'With all effects, L = 1.4 m.' */
function sayConditions(
  full: boolean,
  off: readonly string[],
  effects: number,
  settings: readonly Setting[],
): string {
  const which =
    effects === 0
      ? []
      : full
        ? ['all effects on']
        : off.length === effects
          ? ['all effects off']
          : [`without ${off.join(', ')}`];
  const set = settings.map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`);
  return [...which, ...set].join('; ');
}
