import { schematicFigure } from '../../figure/index.ts';
import type { BaseQuantity, LabInstrument } from '../../lab/index.ts';
import { parseMagnitude } from '../../quantity/index.ts';
import {
  type Block,
  chosen,
  type Inlines,
  joinInlines,
  listInlines,
  type Part,
  paragraph,
  stated,
} from '../document/index.ts';
import type { Phrases } from '../language/index.ts';
import { draftCautions } from './cautions.ts';
import type { Desk } from './desk.ts';
import { uncertaintyOf } from './numbers.ts';
import type { Section } from './section.ts';
import { shortStep, stringOf } from './step-words.ts';
import { emptyCell, tableOf } from './table-parts.ts';

/** Cautions first; then what looks at what, and the quantities of the apparatus with room for the students' own. */
export function draftSetUp(desk: Desk, readers: 'students' | 'staff'): Section {
  return {
    id: 'set-up',
    title: null,
    pinned: [draftCautions(desk, readers)],
    blocks: [
      ...desk.lab.instruments.map((instrument) => paragraph(...sayInstrument(desk, instrument))),
      draftSchematic(desk),
      paragraph(desk.phrases.setup.apparatus),
      apparatusTable(desk),
    ],
  };
}

/** The drawing of what acts on what, made from the lab file. */
export function draftSchematic({ lab, gathered, wording, phrases }: Desk): Block {
  const signals = new Map(
    [...gathered.extras.instruments].flatMap(([name, settings]) => {
      const of = stringOf(settings.of);
      return of === null ? [] : [[name, of] as const];
    }),
  );
  return {
    kind: 'figure',
    figure: schematicFigure(lab, wording, {
      signals,
      kinds: phrases.setup.kindNames,
      steps: [...gathered.extras.eachRun, ...gathered.extras.acrossRuns].map((step) =>
        shortStep(step, phrases),
      ),
    }),
    caption: joinInlines(phrases.setup.schematic),
  };
}

/** What an instrument is, what it looks at, and its settings. */
export function sayInstrument(desk: Desk, instrument: LabInstrument): Inlines {
  const { setup } = desk.phrases;
  const kind = sayKind(desk.phrases, instrument.kind.kind);
  const of = stringOf(desk.gathered.extras.instruments.get(instrument.name)?.of);
  const told = instrument.kind.kind === 'ruler' ? setup.reads : setup.looksAt;
  const what =
    of === null
      ? setup.looks(desk.names.words(instrument.name), kind)
      : told(desk.names.words(instrument.name), kind, desk.names.expression(of));
  const settings = instrumentSettings(desk, instrument);
  return settings.length === 0 ? what : joinInlines(...what, ...setup.withSettings(settings));
}

/** A setting as written: a number with its unit, or a formula. */
function settingValue(text: string, names: Desk['names']): Inlines {
  const magnitude = parseMagnitude(text, 'interval');
  return magnitude.ok ? [chosen(magnitude.value.value, magnitude.value.unit)] : names.expression(text);
}

export function sayKind({ setup }: Phrases, kind: string): string {
  const kinds: Readonly<Record<string, string>> = setup.kinds;
  return kinds[kind] ?? setup.otherKind(kind);
}

/** The settings of an instrument as the lab file writes them. */
export function instrumentSettings({ gathered, names, phrases }: Desk, instrument: LabInstrument): Inlines {
  const written = gathered.extras.instruments.get(instrument.name) ?? {};
  const titles: Readonly<Record<string, string>> = phrases.setup.settingNames;
  const signals = new Set(instrument.kind.signals.map(({ name }) => name));
  const parts = Object.entries(written).flatMap(([name, value]): Part[] => {
    const text = stringOf(value);
    if (name === 'kind' || signals.has(name) || text === null) return [];
    return [phrases.setup.settingIs(titles[name] ?? name, settingValue(text, names))];
  });
  return listInlines(parts, ', ');
}

/** Given quantities that results or theory depend on, with room for one's own values. */
function apparatusTable({ lab, phrases, names }: Desk): Block {
  const { documents, setup } = phrases;
  const planned = new Set(lab.plan.settings.flat().map(({ quantity }) => quantity));
  return tableOf(
    joinInlines(setup.apparatusCaption),
    [documents.symbol, documents.what, documents.value, documents.yours],
    ['left', 'left', 'number', 'left'],
    shownQuantities(lab.quantities.base, lab.influential).map((quantity) => [
      [names.symbol(quantity.name)],
      names.words(quantity.is),
      [stated(quantity.estimate.value, uncertaintyOf(quantity), quantity.unit)],
      // What is exact is not for the students to measure.
      uncertaintyOf(quantity) > 0 || planned.has(quantity) ? emptyCell : joinInlines('–'),
    ]),
  );
}

/** Quantities that can move a result; one that nothing reads need not be measured. */
export function shownQuantities(
  base: readonly BaseQuantity[],
  influential: ReadonlySet<number>,
): readonly BaseQuantity[] {
  return base.filter(({ index }) => influential.has(index));
}
