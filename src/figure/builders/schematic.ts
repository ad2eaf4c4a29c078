import type { Lab, LabInstrument } from '../../lab/index.ts';
import { formatUnit } from '../../quantity/index.ts';
import { axisUnit } from '../axis-unit.ts';
import { expressionText } from '../expression-text.ts';
import type { SchematicBlock, SchematicFigure } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { axisTitle } from '../layout/axis-title.ts';
import type { Phrases } from '../phrases.ts';
import { fromText, joinText, plainText, type RichText, upright } from '../rich-text.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** More quantities or effects than this do not make a drawing clearer. */
const MOST_LISTED = 12;

/** Steps of more characters are conditions written out in full, which no reader of a drawing wants. */
const LONGEST_STEP = 60;

/** A piece of a step's line: words of the language, or an expression of the lab file that is set as a formula. */
export type SchematicPart = { readonly words: string } | { readonly expression: string };

export interface SchematicOptions {
  /** What each instrument is pointed at, as the lab file has it, by the instrument's name: 'x/R'. */
  readonly signals?: ReadonlyMap<string, string>;
  /** Each kind of instrument in a few words; the word of the lab file where left out. */
  readonly kinds?: Readonly<Record<string, string>>;
  /** The steps of the reduction, a line each; the steps' own words where left out. */
  readonly steps?: readonly (readonly SchematicPart[])[];
}

/**
 * What acts on what in a lab, from left to right: the phenomenon with its quantities, the instruments pointed at it,
 * the steps of the reduction, the results.
 *
 * It is made from the lab file, which knows nothing of what the set-up looks like, and says so. A drawing of the
 * set-up is the author's.
 */
export function schematicFigure(lab: Lab, wording: Wording, options: SchematicOptions = {}): SchematicFigure {
  const phrases = phrasesOf(wording.language);
  const signals = lab.instruments.flatMap(({ name }) => options.signals?.get(name) ?? []);
  const columns = [
    {
      blocks: [phenomenonOf(lab, phrases)],
      leads: listed(signals.map((text) => expressionText(text, wording.decimalMark))),
    },
    {
      blocks: lab.instruments.map((instrument) => instrumentBlock(lab, instrument, options.kinds, phrases)),
      leads: upright(phrases.readings),
    },
    { blocks: [reductionOf(lab, options.steps, wording, phrases)], leads: [] },
    { blocks: [resultsOf(lab, phrases)], leads: [] },
  ].filter(({ blocks }) => blocks.length > 0);
  const said = columns.flatMap(({ blocks }) =>
    blocks.map(({ heading, lines }) => ({ heading: plainText(heading), lines: lines.map(plainText) })),
  );
  return {
    kind: 'schematic',
    name: figureName('schematic', lab.title),
    title: phrases.schematicTitle(lab.title),
    description: `${phrases.sayBlocks(said)} ${phrases.schematicNote}`,
    ...wording,
    columns,
    footnote: upright(phrases.schematicNote),
  };
}

function phenomenonOf({ model, quantities, effects }: Lab, phrases: Phrases): SchematicBlock {
  const lines: RichText[] = [];
  if (model.kind === 'motion') {
    lines.push(
      joinText(`${phrases.states}: `, listed(model.model.stateNames.map((name) => symbolText(name)))),
    );
  }
  if (model.kind === 'relation') {
    const { output, control } = model.relation;
    // Symbols are set as symbols wherever the sentence has them.
    const [before = '', between = '', after = ''] = phrases.against('\0', '\0').split('\0');
    lines.push(joinText(before, symbolText(output), between, symbolText(control), after));
  }
  const { base } = quantities;
  const symbols = base.slice(0, MOST_LISTED).map(({ name }) => symbolText(name));
  if (symbols.length > 0)
    lines.push(joinText(`${phrases.quantities}: `, listed(symbols), rest(base.length, phrases)));
  const names = effects.slice(0, MOST_LISTED).map(({ name }) => fromText(name));
  if (names.length > 0)
    lines.push(joinText(`${phrases.effects}: `, listed(names), rest(effects.length, phrases)));
  return { heading: upright(phrases.phenomenon), lines };
}

function rest(count: number, phrases: Phrases): RichText {
  return count > MOST_LISTED ? fromText(` ${phrases.more(count - MOST_LISTED)}`) : [];
}

function instrumentBlock(
  { model }: Lab,
  instrument: LabInstrument,
  kinds: SchematicOptions['kinds'],
  phrases: Phrases,
): SchematicBlock {
  const { kind } = instrument.kind;
  const control = model.kind === 'relation' ? model.relation.control : null;
  const columns = instrument.kind.rawColumns(instrument.shape).map(({ name, dimension }) =>
    axisTitle({
      quantity: name === control ? symbolText(name) : fromText(name),
      unit: axisUnit(dimension, []).text,
    }),
  );
  return {
    heading: fromText(instrument.name),
    lines: [fromText(kinds?.[kind] ?? kind), joinText(`${phrases.readings}: `, listed(columns))],
  };
}

function reductionOf(
  { eachRun, acrossRuns }: Lab,
  told: SchematicOptions['steps'],
  { decimalMark }: Wording,
  phrases: Phrases,
): SchematicBlock {
  const lines =
    told === undefined
      ? [...eachRun.steps, ...acrossRuns.steps].map(({ words }) => fromText(words))
      : told.map((parts) =>
          parts.flatMap((part) =>
            'words' in part ? fromText(part.words) : expressionText(part.expression, decimalMark),
          ),
        );
  return {
    heading: upright(phrases.reduction),
    lines: lines.map((line) => (plainText(line).length > LONGEST_STEP ? upright('…') : line)),
  };
}

function resultsOf({ results }: Lab, phrases: Phrases): SchematicBlock {
  return {
    heading: upright(phrases.results),
    lines: results.map(({ name, unit }) => axisTitle({ quantity: symbolText(name), unit: formatUnit(unit) })),
  };
}

function listed(texts: readonly RichText[]): RichText {
  return texts.flatMap((text, index) => (index === 0 ? text : joinText(', ', text)));
}
