import { measureText, plainText, type Scene, type SceneNode } from '../../src/figure/index.ts';

export interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Where every text of a scene lies: from the top of its capitals to the bottom of its descenders. */
export function textBoxes({ nodes }: Pick<Scene, 'nodes'>): readonly TextBox[] {
  return nodes.flatMap(boxesOf);
}

function boxesOf(node: SceneNode): readonly TextBox[] {
  if (node.kind === 'group') return node.nodes.flatMap(boxesOf);
  if (node.kind !== 'text') return [];
  const { at, anchor, sizePt, text } = node;
  const width = measureText(text, sizePt);
  const left = anchor === 'start' ? at.x : anchor === 'end' ? at.x - width : at.x - width / 2;
  return [
    {
      text: plainText(text),
      left,
      right: left + width,
      top: at.y - 0.76 * sizePt,
      bottom: at.y + 0.24 * sizePt,
    },
  ];
}

/** Pairs of texts that lie on one another. */
export function overlaps(boxes: readonly TextBox[]): readonly string[] {
  return boxes.flatMap((a, i) =>
    boxes
      .slice(i + 1)
      .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
      .map((b) => `"${a.text}" on "${b.text}"`),
  );
}
