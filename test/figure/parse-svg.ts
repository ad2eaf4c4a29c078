import { DOMParser, Element } from '@xmldom/xmldom';

/** Reads an SVG strictly: anything that is not well-formed XML throws. */
export function parseSvg(svg: string): Element {
  const parser = new DOMParser({
    onError: (level, message) => {
      // The figures themselves put replacement characters where XML allows none of what stood there.
      if (message.startsWith('Unicode replacement character')) return;
      throw new Error(`${level}: ${message}`);
    },
  });
  const root = parser.parseFromString(svg, 'image/svg+xml').documentElement;
  if (root === null) throw new Error('the document is empty');
  return root;
}

/** All elements of a name below another, in the order of the document; '*' for all names. */
export function elementsOf(root: Element, name: string): readonly Element[] {
  const found: Element[] = [];
  for (let child = root.firstChild; child !== null; child = child.nextSibling) {
    if (!(child instanceof Element)) continue;
    if (name === '*' || child.tagName === name) found.push(child);
    found.push(...elementsOf(child, name));
  }
  return found;
}

/** All groups of a part, as `data-part="points"`. */
export function partsOf(root: Element, part: string, series?: string): readonly Element[] {
  return elementsOf(root, 'g').filter(
    (group) =>
      group.getAttribute('data-part') === part &&
      (series === undefined || group.getAttribute('data-series') === series),
  );
}

export function numberOf(element: Element, attribute: string): number {
  return Number(element.getAttribute(attribute));
}

/** The pieces of a path, as written by the figures: absolute, straight lines only. */
export function piecesOf(path: Element): readonly (readonly (readonly [number, number])[])[] {
  const d = path.getAttribute('d') ?? '';
  if (!/^[MLZ0-9,. -]*$/.test(d)) throw new Error(`not a path of straight lines: ${d}`);
  return d
    .split('M')
    .slice(1)
    .map((piece) =>
      piece
        .replace('Z', '')
        .split(/[L ]/)
        .map((pair): readonly [number, number] => {
          const [x, y] = pair.split(',').map(Number);
          return [x, y];
        }),
    );
}
