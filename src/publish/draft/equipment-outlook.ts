import { type EquipmentOutlook, judgedResult, LIMITS, type Reason } from '../../adapt/index.ts';
import { kitsFigure } from '../../figure/index.ts';
import {
  type Block,
  type Inlines,
  joinInlines,
  listInlines,
  paragraph,
  plainLine,
  point,
  rounded,
} from '../document/index.ts';
import type { Desk } from './desk.ts';
import { percentage } from './numbers.ts';
import { bareNumber, emptyCell, headWithUnit, tableOf } from './table-parts.ts';

/** How the lab does with each kit: what is expected with its band, how far from theory, a judgement with its reasons. */
export function draftEquipmentOutlook(desk: Desk): readonly Block[] {
  const { gathered, lab, phrases, names, wording } = desk;
  const { guide } = phrases;
  const judged = gathered.equipment.flatMap(({ outlook }) =>
    outlook === null ? [] : (judgedResult(outlook.results) ?? []),
  )[0];
  const result = lab.results.find(({ name }) => name === judged?.result.name);
  if (result === undefined) return [];
  const rows = gathered.equipment.map((one): Inlines[] => {
    const own = one.outlook?.results.find((found) => found.result.name === result.name);
    const reasons = one.judgement.reasons.map((reason) => sayReason(desk, reason));
    const verdict = guide.equipmentVerdicts[one.judgement.verdict];
    const between = own === undefined ? 0 : (own.high - own.low) / 2;
    return [
      nameEquipment(desk, one),
      own === undefined || !Number.isFinite(own.mean)
        ? emptyCell
        : [bareNumber(point(own.mean, own.spread, result.unit))],
      own === undefined || !(between > 0)
        ? emptyCell
        : [
            bareNumber(rounded(own.low, between, result.unit, 2)),
            ...joinInlines(' … '),
            bareNumber(rounded(own.high, between, result.unit, 2)),
          ],
      own === undefined || !Number.isFinite(own.theory) || own.theory === 0
        ? emptyCell
        : percentage((own.full - own.theory) / Math.abs(own.theory)),
      one.outlook === null || one.outlook.course.readings === null
        ? emptyCell
        : joinInlines(String(one.outlook.course.readings)),
      reasons.length === 0
        ? joinInlines(verdict)
        : joinInlines(`${verdict}: `, ...listInlines(reasons, '; ')),
    ];
  });
  const { care, disappoint } = limitsInWords(desk);
  return [
    {
      kind: 'figure',
      figure: kitsFigure(
        gathered.equipment,
        result,
        (one) => plainLine(nameEquipment(desk, one), desk.settings),
        wording,
      ),
      caption: guide.outlookFigure(names.result(result)),
    },
    tableOf(
      guide.outlookCaption(names.result(result)),
      [
        guide.kit,
        headWithUnit(joinInlines(guide.expected), result.unit),
        headWithUnit(joinInlines(guide.band), result.unit),
        guide.gapToTheory,
        guide.inWindow,
        guide.willIt,
      ],
      ['left', 'number', 'left', 'left', 'number', 'left'],
      rows,
    ),
    paragraph(...guide.judgedSo(care, disappoint)),
  ];
}

function limitsInWords({ phrases }: Desk): { readonly care: Inlines; readonly disappoint: Inlines } {
  const say = (grade: 'care' | 'disappoint') =>
    phrases.guide.limitsCare(
      String(LIMITS.readings[grade]),
      percentage(LIMITS.scatter[grade], false),
      percentage(LIMITS.gap[grade], false),
    );
  return { care: say('care'), disappoint: say('disappoint') };
}

function nameEquipment({ phrases, names }: Desk, { kits }: EquipmentOutlook): Inlines {
  if (kits.length === 0) return joinInlines(phrases.guide.ownEquipment);
  return listInlines(
    kits.map(({ name }) => names.words(name)),
    ' + ',
  );
}

function sayReason({ phrases, names }: Desk, reason: Reason): Inlines {
  const { reasons } = phrases.guide;
  switch (reason.kind) {
    case 'cannot run':
      return joinInlines(reasons.cannotRun);
    case 'rehearsals fail':
      return reasons.fails(percentage(reason.share, false));
    case 'few readings':
      return reasons.fewReadings(String(reason.readings));
    case 'scatter':
      return reasons.scatter(percentage(reason.relative, false));
    case 'gap':
      return reasons.gap(percentage(reason.relative));
    case 'model ends early':
      return reasons.endsEarly(names.words(reason.name));
    case 'hazard':
      return joinInlines(reasons.hazard);
  }
}
