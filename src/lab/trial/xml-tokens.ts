/** What an XML text is made of, in order. An empty element opens and closes. */
export interface XmlListener {
  open(name: string, attributes: Readonly<Record<string, string>>): void;
  text(text: string): void;
  close(name: string): void;
}

/**
 * Walks through the XML of an office document: elements, attributes, text, CDATA. Names come without their
 * prefix, attributes with it.
 *
 * Declarations of a document type are refused, and only the five predefined entities and numbered characters are
 * replaced, so that no text grows beyond what is written.
 *
 * @returns false where the text is not well-formed as far as this can tell
 */
export function walkXml(xml: string, listener: XmlListener): boolean {
  const open: string[] = [];
  let at = 0;
  while (at < xml.length) {
    const tag = xml.indexOf('<', at);
    if (tag < 0) break;
    if (tag > at) listener.text(decodeEntities(xml.slice(at, tag)));
    if (xml.startsWith('<![CDATA[', tag)) {
      const end = xml.indexOf(']]>', tag);
      if (end < 0) return false;
      listener.text(xml.slice(tag + 9, end));
      at = end + 3;
      continue;
    }
    if (xml.startsWith('<!--', tag) || xml.startsWith('<?', tag)) {
      const close = xml.startsWith('<?', tag) ? '?>' : '-->';
      const end = xml.indexOf(close, tag + 2);
      if (end < 0) return false;
      at = end + close.length;
      continue;
    }
    if (xml[tag + 1] === '!') return false;
    const end = endOfTag(xml, tag);
    if (end < 0) return false;
    at = end + 1;
    if (xml[tag + 1] === '/') {
      const name = localName(xml.slice(tag + 2, end).trim());
      if (open.pop() !== name) return false;
      listener.close(name);
      continue;
    }
    const empty = xml[end - 1] === '/';
    const inside = xml.slice(tag + 1, empty ? end - 1 : end);
    const name = localName(/^[^\s]*/.exec(inside)?.[0] ?? '');
    listener.open(name, readAttributes(inside));
    if (empty) listener.close(name);
    else open.push(name);
    if (open.length > 200) return false;
  }
  return open.length === 0;
}

/** The '>' that ends a tag: one within a quoted attribute does not. */
function endOfTag(xml: string, tag: number): number {
  let quote = '';
  for (let at = tag + 1; at < xml.length; at++) {
    const character = xml[at] ?? '';
    if (quote !== '') {
      if (character === quote) quote = '';
    } else if (character === '"' || character === "'") quote = character;
    else if (character === '>') return at;
  }
  return -1;
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

function readAttributes(inside: string): Record<string, string> {
  const attributes: Record<string, string> = Object.create(null);
  for (const match of inside.matchAll(/\s([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g)) {
    attributes[match[1] ?? ''] = decodeEntities(match[2] ?? match[3] ?? '');
  }
  return attributes;
}

const entities: ReadonlyMap<string, string> = new Map([
  ['amp', '&'],
  ['lt', '<'],
  ['gt', '>'],
  ['quot', '"'],
  ['apos', "'"],
]);

function decodeEntities(text: string): string {
  if (!text.includes('&')) return text;
  return text.replace(/&(#x[0-9a-fA-F]{1,6}|#\d{1,7}|\w{1,8});/g, (whole, name: string) => {
    if (!name.startsWith('#')) return entities.get(name) ?? whole;
    const code = name[1] === 'x' ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
    return code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });
}
