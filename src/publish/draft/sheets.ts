import type { Setting } from '../../lab/index.ts';
import { plannedGroups } from '../../run/index.ts';
import { blank, type Inlines, joinInlines, list, paragraph } from '../document/index.ts';
import { draftCautions } from './cautions.ts';
import { runsTable } from './data-table.ts';
import type { Desk } from './desk.ts';
import { roughUncertainty, uncertaintyOf } from './numbers.ts';
import { toBeMeasured } from './procedure.ts';
import { type Section, section } from './section.ts';
import { draftSchematic, instrumentSettings, sayInstrument, sayKind, shownQuantities } from './set-up.ts';
import { emptyCell, tableOf } from './table-parts.ts';

/** Instruments, apparatus with how well it must be known, and other sets of equipment that do as well. */
export function draftEquipment(desk: Desk): readonly Section[] {
  const { lab, phrases, names, gathered } = desk;
  const { guide, documents } = phrases;
  const instruments = tableOf(
    joinInlines(guide.instrumentsCaption),
    [guide.instrument, guide.kind, guide.settings],
    ['left', 'left', 'left'],
    lab.instruments.map((instrument) => [
      names.words(instrument.name),
      joinInlines(sayKind(phrases, instrument.kind.kind)),
      instrumentSettings(desk, instrument),
    ]),
  );
  const quantities = tableOf(
    joinInlines(guide.quantitiesCaption),
    [documents.symbol, documents.what, documents.value, guide.uncertainty, documents.from],
    ['left', 'left', 'left', 'left', 'left'],
    lab.quantities.base.map((quantity) => [
      [names.symbol(quantity.name)],
      names.words(quantity.is),
      [names.given(quantity, quantity.estimate.value)],
      uncertaintyOf(quantity) > 0 ? [roughUncertainty(quantity, 2)] : emptyCell,
      names.words(quantity.from),
    ]),
  );
  const kits = tableOf(
    joinInlines(documents.headings.kits),
    [guide.kit, documents.what, guide.changes],
    ['left', 'left', 'left'],
    gathered.kits.map(({ kit }) => [names.words(kit.name), names.words(kit.is), names.settings(kit.set)]),
  );
  return [
    section('instruments', instruments),
    {
      ...section('quantities', quantities, paragraph(guide.alsoNeeded)),
      pinned: [draftCautions(desk, 'staff')],
    },
    ...(gathered.kits.length === 0 ? [] : [section('kits', kits)]),
  ];
}

/** For the person who puts the apparatus up: cautions, the drawing, and what is to be set and checked. */
export function draftSetUpSheet(desk: Desk): readonly Section[] {
  const { lab, phrases, names } = desk;
  const { guide, documents } = phrases;
  const check = tableOf(
    joinInlines(guide.checkCaption),
    [documents.symbol, documents.what, documents.value, guide.tolerance, guide.checked],
    ['left', 'left', 'left', 'left', 'left'],
    shownQuantities(lab.quantities.base, lab.influential).map((quantity) => [
      [names.symbol(quantity.name)],
      names.words(quantity.is),
      [names.given(quantity, quantity.estimate.value)],
      uncertaintyOf(quantity) > 0 ? [roughUncertainty(quantity, 1)] : emptyCell,
      emptyCell,
    ]),
  );
  return [
    {
      id: 'set-up',
      title: null,
      pinned: [draftCautions(desk, 'staff')],
      blocks: [
        paragraph(guide.setupIntroduction),
        draftSchematic(desk),
        list(
          false,
          lab.instruments.map((instrument) => sayInstrument(desk, instrument)),
        ),
        check,
      ],
    },
  ];
}

/** A sheet to fill in for each station, each with the cautions; one for all where the lab has no stations. */
export function draftDataSheet(desk: Desk): readonly Section[] {
  const { gathered, phrases, lab, names } = desk;
  const { documents, guide } = phrases;
  const stations = gathered.stations.map(({ station }) => station);
  const sheets = stations.length === 0 ? [{ name: '', set: [] }] : stations;
  return sheets.flatMap(({ name, set: when }, index): Section[] => {
    const who: Inlines = joinInlines(
      `${documents.names}: `,
      blank(24),
      `  ${documents.date}: `,
      blank(10),
      ...(name === '' ? [] : [`  ${documents.station(name)}: `, ...names.settings(when)]),
    );
    return [
      {
        id: 'group',
        title: null,
        pinned: [draftCautions(desk, 'students')],
        blocks: [paragraph(...who), ownValues(desk, when)],
      },
      section(
        'runs',
        runsTable(desk, plannedAt(desk, when), lab.plan.repeats),
        paragraph(guide.noteEverything, ' ', blank(60)),
        ...(index < sheets.length - 1 ? [{ kind: 'page break' } as const] : []),
      ),
    ];
  });
}

/** What a group sets from run to run: the plan's settings, save those that its station fixes. */
function plannedAt({ lab }: Desk, station: readonly Setting[]): readonly (readonly Setting[])[] {
  const fixed = new Set(station.map(({ quantity }) => quantity));
  return plannedGroups(lab, station).map(({ when }) => when.filter(({ quantity }) => !fixed.has(quantity)));
}

/**
 * The values that students measure themselves; all that count where the analysis reads none. What is another value in
 * each run stands beside the runs.
 */
function ownValues(desk: Desk, when: readonly Setting[]) {
  const { lab, phrases, names } = desk;
  const { documents, setup } = phrases;
  const changing = new Set(plannedAt(desk, when).flatMap((own) => own.map(({ quantity }) => quantity)));
  const measured = toBeMeasured(desk).filter((quantity) => !changing.has(quantity));
  const shown = measured.length > 0 ? measured : shownQuantities(lab.quantities.base, lab.influential);
  return tableOf(
    joinInlines(setup.apparatusCaption),
    [documents.symbol, documents.what, documents.value, documents.yours],
    ['left', 'left', 'left', 'left'],
    shown.map((quantity) => [
      [names.symbol(quantity.name)],
      names.words(quantity.is),
      [
        names.given(
          quantity,
          when.find((set) => set.quantity === quantity)?.value ?? quantity.estimate.value,
        ),
      ],
      emptyCell,
    ]),
  );
}
