import type { RuleMark } from '../figure.ts';
import { strokeOf } from '../marks/plot.ts';
import { cutText, measureText } from '../measure-text.ts';
import type { Placing } from '../scale.ts';
import { type Box, group, type SceneNode } from '../scene.ts';
import type { Appearance } from './appearance.ts';
import { SPACE } from './metrics.ts';

/** Each label is led by a piece of its line: two lines may be so near that their places do not tell them apart. */
const SAMPLE = 1.3;
const BEFORE = SAMPLE + 0.35;

interface PlacedLabel {
  readonly rule: RuleMark;
  readonly at: number;
  readonly left: number;
  readonly right: number;
  readonly row: number;
}

/**
 * Labels of upright rules, over the plot, each as near to its line as the others and the margins allow; where two
 * would meet, the one farther right goes a row higher.
 */
export function placeRuleLabels(
  rules: readonly RuleMark[],
  place: Placing,
  box: Pick<Box, 'left' | 'right'>,
  appearance: Appearance,
): { readonly rows: number; draw(boxTopPt: number): readonly SceneNode[] } {
  const { fontPt, widthPt } = appearance.size;
  const rightmost = widthPt - SPACE.margin * fontPt;
  const placed: PlacedLabel[] = [];
  const labelled = rules
    .map((rule) => ({ rule, at: place(rule.at) }))
    .filter(({ rule, at }) => rule.label.length > 0 && at >= box.left && at <= box.right)
    .sort((a, b) => a.at - b.at);
  for (const { rule, at } of labelled) {
    const width = Math.min(BEFORE * fontPt + measureText(rule.label, fontPt), rightmost - box.left);
    const left = Math.min(Math.max(at - width / 2, box.left), rightmost - width);
    const span = { left, right: left + width };
    let row = 0;
    while (placed.some((other) => other.row === row && meets(span, other, fontPt))) row += 1;
    placed.push({ rule, at, row, ...span });
  }
  const rows = Math.max(0, ...placed.map(({ row }) => row + 1));
  return {
    rows,
    draw(boxTopPt) {
      if (placed.length === 0) return [];
      const nodes = placed.flatMap(({ rule, left, row }): SceneNode[] => {
        const baseline = boxTopPt - (row * SPACE.line + 0.45) * fontPt;
        const y = baseline - SPACE.middle * fontPt;
        const sample = [
          { x: left, y },
          { x: left + SAMPLE * fontPt, y },
        ];
        const stroke = strokeOf(rule.role, { theme: appearance.theme, fontPt });
        return [
          { kind: 'path', pieces: [sample], closed: false, stroke, fill: null },
          {
            kind: 'text',
            at: { x: left + BEFORE * fontPt, y: baseline },
            anchor: 'start',
            sizePt: fontPt,
            colour: appearance.theme.ink,
            text: cutText(rule.label, rightmost - box.left - BEFORE * fontPt, fontPt),
          },
        ];
      });
      return [group('rule labels', nodes)];
    },
  };
}

function meets(
  a: Pick<PlacedLabel, 'left' | 'right'>,
  b: Pick<PlacedLabel, 'left' | 'right'>,
  fontPt: number,
): boolean {
  return a.left < b.right + fontPt && b.left < a.right + fontPt;
}
