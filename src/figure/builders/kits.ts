import type { EquipmentOutlook } from '../../adapt/index.ts';
import type { LabResult } from '../../lab/index.ts';
import { formatUnit, fromSI } from '../../quantity/index.ts';
import type { AxisRow, ChartFigure, Level } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { axisTitle } from '../layout/axis-title.ts';
import { numberAxis } from '../number-axis.ts';
import { fromText, plainText } from '../rich-text.ts';
import { sayMeasured, sayNumber, writeMeasured } from '../say-number.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/**
 * What is expected of one result with the lab's own equipment and with each kit: the mean over rehearsals with its
 * scatter from school to school, and below it what theory says. Equipment that breaks the model has no row.
 *
 * @param nameOf what a set of equipment is called, in the language of the figure
 */
export function kitsFigure(
  outlooks: readonly EquipmentOutlook[],
  result: LabResult,
  nameOf: (outlook: EquipmentOutlook) => string,
  wording: Wording,
): ChartFigure {
  const phrases = phrasesOf(wording.language);
  const unit = formatUnit(result.unit);
  const quantity = symbolText(result.name);
  const point = (value: number) => fromSI(value, result.unit, 'point');
  const kits = outlooks.flatMap((one) => {
    const own = one.outlook?.results.find((found) => found.result.name === result.name);
    if (own === undefined) return [];
    const value = point(Number.isNaN(own.mean) ? own.full : own.mean);
    const u = fromSI(own.spread, result.unit, 'interval');
    return [{ name: nameOf(one), value, u: Number.isNaN(u) ? 0 : u, theory: point(own.theory) }];
  });
  const rows = kits.flatMap(({ name, value, u, theory }): { row: AxisRow; level: Level }[] => [
    {
      row: { label: fromText(name), value: fromText(writeMeasured(value, u, wording)), strong: true },
      level: { kind: 'total', role: 'full', value, standardUncertainty: u },
    },
    ...(Number.isFinite(theory)
      ? [
          {
            row: {
              label: fromText(phrases.theory),
              value: fromText(sayNumber(theory, '', wording, 4)),
              strong: false,
            },
            level: { kind: 'total', role: 'theory', value: theory, standardUncertainty: 0 } as const,
          },
        ]
      : []),
  ]);
  const named = plainText(quantity);
  return {
    kind: 'chart',
    name: figureName('kits', result.name, ''),
    title: phrases.kitsTitle(named),
    description: kits
      .map(({ name, value, u, theory }) =>
        phrases.sayKit({
          kit: name,
          result: named,
          expected: sayMeasured(value, u, unit, wording),
          theory: Number.isFinite(theory) ? sayNumber(theory, unit, wording, 4) : null,
        }),
      )
      .join(' '),
    ...wording,
    statement: [],
    x: numberAxis(quantity, unit),
    panels: [
      {
        share: 1,
        y: { kind: 'rows', rows: rows.map(({ row }) => row), valueHeading: axisTitle({ quantity, unit }) },
        marks: [{ kind: 'levels', role: 'full', name: [], levels: rows.map(({ level }) => level) }],
      },
    ],
  };
}
