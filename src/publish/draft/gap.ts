import { ledgerFigure, settingFigure } from '../../figure/index.ts';
import { type GapLedger, percentScale } from '../../reconcile/index.ts';
import { groupRuns, type RunGroup } from '../../run/index.ts';
import {
  type Block,
  type Inlines,
  interval,
  joinInlines,
  paragraph,
  plainNumber,
  strong,
  type TableBlock,
} from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { percentage, resultChange, resultValue, sizeOfChange } from './numbers.ts';
import { type Section, section } from './section.ts';
import { bareNumber, headWithUnit, tableOf } from './table-parts.ts';

/** The gap ledger as a figure and in words, effect by effect, with its verdict; other settings in a table. */
export function draftGap(desk: Desk): Section {
  const { lab, gathered, phrases } = desk;
  const ledgers = lab.results.flatMap((result) => mainLedger(gathered, result.name) ?? []);
  return section(
    'gap',
    ...ledgers.flatMap((ledger) => ledgerBlocks(desk, ledger)),
    paragraph(phrases.guide.howShared),
  );
}

function ledgerBlocks(desk: Desk, ledger: GapLedger): readonly Block[] {
  const { phrases, names, wording } = desk;
  const { guide } = phrases;
  const { result } = ledger;
  const full = resultValue(result, ledger.full);
  const start =
    ledger.theory === null
      ? guide.gapStartIdeal(resultValue(result, ledger.ideal), full)
      : guide.gapStart(resultValue(result, ledger.theory), full);
  const shift = ledger.reduction.reduce((sum, step) => sum + step.shift, 0);
  const isSeen = Math.abs(shift) > 0.01 * ledger.full.standardUncertainty;
  return [
    {
      kind: 'figure',
      figure: ledgerFigure(ledger, wording),
      caption: guide.ledgerCaption(names.result(result)),
    },
    paragraph(
      strong(...names.result(result), '. '),
      ...start,
      ...(isSeen ? [' ', ...guide.reductionShift(interval(shift, 0, result.unit, 2))] : []),
      ...(ledger.effects.length === 0 ? [] : [' ', guide.effectByEffect]),
    ),
    ...(ledger.effects.length === 0 ? [] : [effectList(desk, ledger)]),
    ...measuredBlocks(desk, ledger),
    ...settingsBlocks(desk, ledger),
  ];
}

function effectList({ lab, phrases, names }: Desk, ledger: GapLedger): Block {
  const { guide } = phrases;
  const { result } = ledger;
  const symbol = names.symbol(result.name);
  const u = ledger.measured?.standardUncertainty ?? ledger.full.standardUncertainty;
  const items = ledger.effects.map((effect): Block[] => {
    const is = lab.effects.find(({ name }) => name === effect.effect)?.is ?? '';
    const change = { value: effect.share, standardUncertainty: effect.standardUncertainty };
    const scale = percentScale(ledger);
    const share = scale === null ? '' : guide.ofIdeal(percentage(Math.abs(effect.share) / scale, false));
    const words =
      Math.abs(effect.share) < 0.1 * u
        ? guide.isNegligible(symbol, resultChange(result, change))
        : effect.share > 0
          ? guide.makesLarger(symbol, sizeOfChange(result, change), share)
          : guide.makesSmaller(symbol, sizeOfChange(result, change), share);
    return [
      paragraph(
        strong(...names.words(effect.effect), ': '),
        ...(is === '' ? [] : [...names.words(is), ' ']),
        ...words,
      ),
    ];
  });
  return { kind: 'list', ordered: false, items };
}

function measuredBlocks({ phrases }: Desk, ledger: GapLedger): readonly Block[] {
  const { guide } = phrases;
  const { measured, remainder, result } = ledger;
  if (measured === null || remainder === null) return [];
  return [
    paragraph(
      ...guide.measuredIs(guide.runs(measured.n), resultValue(result, measured)),
      ' ',
      ...guide.remainderIs(resultChange(result, remainder), plainNumber(Math.abs(remainder.z), 2)),
      ' ',
      strong(guide.verdicts[remainder.verdict]),
    ),
  ];
}

/** The other settings of a result: a table of their ledgers, and a figure where they differ in one quantity. */
function settingsBlocks(desk: Desk, main: GapLedger): readonly Block[] {
  const { gathered, phrases, names, wording } = desk;
  const { pipeline, reconciliation, trials } = gathered;
  const ledgers = reconciliation.ledgers.filter(({ result }) => result === main.result);
  if (ledgers.length < 2) return [];
  const groups = groupRuns(pipeline.lab, trials);
  const figure = settingFigure(pipeline, main.result, groups, ledgers, wording);
  return [
    settingsTable(desk, main, ledgers, groups),
    ...(figure.ok
      ? [
          {
            kind: 'figure',
            figure: figure.value,
            caption: phrases.guide.settingCaption(names.result(main.result)),
          } as const,
        ]
      : []),
  ];
}

/** More columns of numbers with ± do not fit a page. */
const MOST_PLUS_MINUS = 3;

function settingsTable(
  { phrases, names }: Desk,
  main: GapLedger,
  ledgers: readonly GapLedger[],
  groups: readonly RunGroup[],
): TableBlock {
  const { guide } = phrases;
  const { result } = main;
  const isCompact = ledgers.length > MOST_PLUS_MINUS;
  const cell = (value: number | undefined, u = 0): Inlines =>
    value === undefined ? [] : [{ ...bareNumber(interval(value, u, result.unit, 2)), isCompact }];
  const total = (
    pick: (ledger: GapLedger) => { value: number; standardUncertainty: number } | null,
  ): Inlines[] =>
    ledgers.map((ledger) => {
      const found = pick(ledger);
      return found === null ? [] : [{ ...bareNumber(resultValue(result, found)), isCompact }];
    });
  return tableOf(
    isCompact
      ? joinInlines(...guide.otherSettings(names.result(result)), '. ', guide.inBrackets)
      : guide.otherSettings(names.result(result)),
    [
      headWithUnit(joinInlines(guide.effect), result.unit),
      ...ledgers.map(({ group }) => {
        const when = groups.find(({ label }) => label === group)?.when;
        return when === undefined ? names.words(group ?? '') : names.settings(when);
      }),
    ],
    ['left', ...ledgers.map((): 'number' => 'number')],
    [
      [joinInlines(guide.theory), ...total(({ theory }) => theory)],
      ...main.effects.map(({ effect }, index): Inlines[] => [
        names.words(effect),
        ...ledgers.map(({ effects }) => cell(effects[index]?.share, effects[index]?.standardUncertainty)),
      ]),
      [joinInlines(guide.full), ...total(({ full }) => full)],
      ...(ledgers.some(({ measured }) => measured !== null)
        ? [
            [joinInlines(guide.measured(guide.sampleRuns)), ...total(({ measured }) => measured)],
            [joinInlines(guide.remainder), ...total(({ remainder }) => remainder)],
          ]
        : []),
    ],
  );
}
