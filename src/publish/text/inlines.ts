import type { PhrasingContent, Text } from 'mdast';
import type { TextDirective } from 'mdast-util-directive';
import { parseExpression } from '../../expression/index.ts';
import { formula, type Inline, type Inlines, inLanguage, joinInlines, plainLine } from '../document/index.ts';
import { attributesOf } from './attributes.ts';
import type { Converter } from './converter.ts';
import { ALL_DIRECTIVES, describeForm, formOf, INLINE_NAMES } from './directive-names.ts';
import { valueInline } from './numbers-named.ts';
import { type Reading, sourceOf, tell, tellUnknown } from './reading.ts';

/** Places that a link may lead to; everything else could do something when it is followed. */
const SAFE_LINK = /^(?:https?:\/\/|mailto:)/iu;

/** Widest gap that a line of a page can hold. */
const WIDEST_BLANK = 60;

/**
 * Running text as inlines; what cannot stand there is told and left out.
 *
 * Where the text is written in another language than the document's, its words say so.
 */
export function inlinesOf(nodes: readonly PhrasingContent[], converter: Converter): Inlines {
  const inlines = partsOf(nodes, converter);
  return converter.foreign === null ? inlines : inLanguage(converter.foreign, inlines);
}

function partsOf(nodes: readonly PhrasingContent[], converter: Converter): Inlines {
  return joinInlines(...nodes.flatMap((node) => inlineOf(node, converter)));
}

function inlineOf(node: PhrasingContent, converter: Converter): Inlines {
  const { reading } = converter;
  switch (node.type) {
    case 'text':
      tellLineDirective(node, reading);
      return joinInlines(node.value.replace(/\s*\n\s*/gu, ' '));
    case 'emphasis':
    case 'strong':
      return [{ kind: node.type, inlines: partsOf(node.children, converter) }];
    case 'inlineCode':
      return [{ kind: 'code', text: node.value }];
    case 'break':
      return joinInlines(' ');
    case 'link':
      return linkOf(node.url, node, partsOf(node.children, converter), converter);
    case 'linkReference': {
      const definition = converter.definitions.get(node.identifier);
      const inlines = partsOf(node.children, converter);
      return definition === undefined ? inlines : linkOf(definition.url, node, inlines, converter);
    }
    case 'textDirective':
      return directiveOf(node, converter);
    case 'image':
    case 'imageReference':
      tell(
        reading,
        node,
        'image-in-line',
        'A picture stands in a line of text; it needs a paragraph of its own.',
      );
      return [];
    case 'html':
      tellMarkup(reading, node);
      return [];
    default:
      tell(reading, node, 'unknown-markup', `"${node.type}" has no place in a text.`);
      return [];
  }
}

/** '::figure{of=ledger}' within a line is no directive, and nobody means it to be read as it stands. */
function tellLineDirective(node: Text, reading: Reading): void {
  const [, name] = /:{2,}([a-z]+)(?=[[{])/u.exec(node.value) ?? [];
  const form = name === undefined ? null : formOf(name);
  if (name === undefined || form === null || form === 'line') return;
  const message = `"::${name}" stands within a line, where it is no directive.`;
  tell(reading, node, 'misplaced-directive', message, describeForm(name));
}

/** Markup of web pages is not taken over: it could run something, and other formats have no use for it. */
export function tellMarkup(
  reading: Reading,
  node: Parameters<typeof tell>[1] & { readonly value: string },
): void {
  const start = node.value.trim().slice(0, 30).replace(/\s+/gu, ' ');
  const message = `"${start}" is markup of web pages; texts are Markdown with directives.`;
  tell(reading, node, 'raw-markup', message, 'Put it between backquotes if it is to be read as it stands.');
}

function linkOf(
  url: string,
  node: PhrasingContent,
  inlines: Inlines,
  { reading, anchors }: Converter,
): Inlines {
  if (url.startsWith('#')) {
    anchors.push({ id: url.slice(1), node });
    return [{ kind: 'link', to: url, inlines }];
  }
  if (SAFE_LINK.test(url)) return [{ kind: 'link', to: url, inlines }];
  const message = `The link leads to "${url.slice(0, 60)}"; links lead to https:, http:, mailto: or a #heading.`;
  tell(reading, node, 'unsafe-link', message);
  return inlines;
}

function directiveOf(node: TextDirective, converter: Converter): Inlines {
  const { reading, desk } = converter;
  const isBare = node.children.length === 0 && Object.keys(node.attributes ?? {}).length === 0;
  const known = INLINE_NAMES.includes(node.name);
  // "at 10:am" or "a ratio 3:x" is no directive: nothing follows the word.
  if (isBare && !known) return joinInlines(sourceOf(reading, [node]));
  switch (node.name) {
    case 'value':
      return oneOrNone(valueInline(desk, node, reading));
    case 'symbol':
      return symbolOf(node, converter);
    case 'formula':
      return formulaOf(node, converter);
    case 'tex':
      return attributesOf(node, [], reading) === null
        ? []
        : [{ kind: 'tex', tex: sourceOf(reading, node.children).replace(/^`+\s?|\s?`+$/gu, '') }];
    case 'blank':
      return blankOf(node, reading);
    case 'cite':
      return citationOf(node, converter);
    case 'answer':
      return answerOf(node, converter);
    default: {
      const form = formOf(node.name);
      if (form === null)
        tellUnknown(
          reading,
          node,
          'unknown-directive',
          `":${node.name}" is no directive.`,
          node.name,
          ALL_DIRECTIVES,
        );
      else
        tell(
          reading,
          node,
          'misplaced-directive',
          `":${node.name}" does not stand in a line.`,
          describeForm(node.name),
        );
      return [];
    }
  }
}

function oneOrNone(inline: Inline | null): Inlines {
  return inline === null ? [] : [inline];
}

function symbolOf(node: TextDirective, { desk, reading }: Converter): Inlines {
  if (attributesOf(node, [], reading) === null) return [];
  const name = sourceOf(reading, node.children).trim();
  const { lab } = desk;
  const states =
    lab.model.kind === 'motion'
      ? lab.model.model.stateNames
      : lab.model.kind === 'relation'
        ? [lab.model.relation.control, lab.model.relation.output]
        : [];
  const known = [
    ...lab.quantities.byName.keys(),
    ...lab.results.map((result) => result.name),
    ...states,
    ...lab.eachRun.columns.keys(),
    ...lab.eachRun.scalars.keys(),
  ];
  if (known.includes(name)) return [desk.names.symbol(name)];
  tellUnknown(reading, node, 'unknown-symbol', `"${name}" is no symbol of this lab.`, name, [
    ...new Set(known),
  ]);
  return [];
}

function formulaOf(node: TextDirective, { reading }: Converter): Inlines {
  if (attributesOf(node, [], reading) === null) return [];
  const text = sourceOf(reading, node.children).replace(/^`+\s?|\s?`+$/gu, '');
  const sides = text.split(/(?<![<>=])=(?!=)/u);
  const parsed = sides.map((side) => parseExpression(side));
  const [problem] = parsed.flatMap((side) => (side.ok ? [] : side.problems));
  if (problem !== undefined) {
    tell(
      reading,
      node,
      problem.code,
      `The formula "${text}" cannot be read: ${problem.message}`,
      problem.tryThis,
    );
    return [];
  }
  const trees = parsed.flatMap((side) => (side.ok ? [formula(side.value.tree)] : []));
  return joinInlines(...trees.flatMap((tree, index) => (index === 0 ? [tree] : ['\u00a0=\u00a0', tree])));
}

function blankOf(node: TextDirective, reading: Reading): Inlines {
  const attributes = attributesOf(node, ['width'], reading);
  if (attributes === null) return [];
  const characters = Number(attributes.width ?? '12');
  if (Number.isInteger(characters) && characters >= 1 && characters <= WIDEST_BLANK)
    return [{ kind: 'blank', characters }];
  const message = `"width" is "${attributes.width ?? ''}"; a whole number of characters from 1 to ${WIDEST_BLANK} stands there.`;
  tell(reading, node, 'wrong-attribute', message);
  return [];
}

function citationOf(node: TextDirective, { reading, bibliography }: Converter): Inlines {
  if (attributesOf(node, [], reading) === null) return [];
  const keys = sourceOf(reading, node.children)
    .split(/[,;]/u)
    .map((key) => key.trim())
    .filter((key) => key !== '');
  if (keys.length === 0) tell(reading, node, 'broken-reference', '":cite" names no source: :cite[key].');
  const unknown = keys.filter((key) => !bibliography.entries.has(key));
  for (const key of unknown) {
    const message = `"${key}" is no source of this lab.`;
    tellUnknown(reading, node, 'broken-reference', message, key, [...bibliography.entries.keys()]);
  }
  return keys.length > 0 && unknown.length === 0 ? [{ kind: 'citation', keys }] : [];
}

/** An answer within a line: a gap for students, the answer itself for teachers. */
function answerOf(node: TextDirective, converter: Converter): Inlines {
  if (attributesOf(node, [], converter.reading) === null) return [];
  const inlines = partsOf(node.children, converter);
  if (converter.level === null) return [{ kind: 'strong', inlines }];
  const width = plainLine(inlines, converter.desk.settings).length;
  return [{ kind: 'blank', characters: Math.min(Math.max(width, 6), WIDEST_BLANK) }];
}
