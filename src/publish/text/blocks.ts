import type { BlockContent, DefinitionContent, Paragraph, RootContent, Table } from 'mdast';
import type { ContainerDirective, LeafDirective } from 'mdast-util-directive';
import { type Block, type Inlines, joinInlines, type Level, plainLine } from '../document/index.ts';
import { attributesOf } from './attributes.ts';
import type { Converter } from './converter.ts';
import { ALL_DIRECTIVES, describeForm, formOf } from './directive-names.ts';
import { figureBlock } from './figures-named.ts';
import { pathInFolder, recognisePicture } from './images.ts';
import { inlinesOf, tellMarkup } from './inlines.ts';
import { sourceOf, tell, tellUnknown } from './reading.ts';
import { derivationBlocks, tableBlocks } from './tables-named.ts';

type Node = RootContent | BlockContent | DefinitionContent;

/** Where the drafted blocks of a section go: `::draft` stands there. */
export const DRAFT: Block = { kind: 'paragraph', inlines: [] };

const LEVELS: readonly Level[] = ['steps', 'algebra', 'calculus'];

/** Parts of a text as blocks; what cannot stand there is told and left out. */
export function blocksOf(nodes: readonly Node[], converter: Converter): readonly Block[] {
  return nodes.flatMap((node) => blockOf(node, converter));
}

function blockOf(node: Node, converter: Converter): readonly Block[] {
  const { reading } = converter;
  switch (node.type) {
    case 'paragraph':
      return paragraphOf(node, converter);
    case 'heading':
      return [
        {
          kind: 'heading',
          level: node.depth <= 3 ? 2 : 3,
          inlines: inlinesOf(node.children, converter),
          id: slugOf(plainLine(inlinesOf(node.children, converter), converter.desk.settings)),
        },
      ];
    case 'list':
      return [
        {
          kind: 'list',
          ordered: node.ordered === true,
          items: node.children.map((item) => blocksOf(item.children, converter)),
        },
      ];
    case 'blockquote':
      return blocksOf(node.children, converter);
    case 'code':
      return node.lang === 'tex'
        ? [{ kind: 'display tex', tex: node.value }]
        : [{ kind: 'code', language: node.lang ?? '', text: node.value }];
    case 'thematicBreak':
      return [{ kind: 'page break' }];
    case 'table':
      return [tableOf(node, converter)];
    case 'definition':
      return [];
    case 'html':
      // A comment is the author's own and says nothing to readers.
      if (!/^<!--[\s\S]*-->$/u.test(node.value.trim())) tellMarkup(reading, node);
      return [];
    case 'leafDirective':
      return leafOf(node, converter);
    case 'containerDirective':
      return containerOf(node, converter);
    default:
      tell(reading, node, 'unknown-markup', `"${node.type}" has no place in a text.`);
      return [];
  }
}

/** A paragraph, or the picture that is all there is in it. */
function paragraphOf(node: Paragraph, converter: Converter): readonly Block[] {
  const [only] = node.children;
  if (node.children.length === 1 && only?.type === 'image') return imageOf(only, converter);
  const inlines = inlinesOf(node.children, converter);
  return inlines.length === 0 ? [] : [{ kind: 'paragraph', inlines }];
}

function imageOf(
  node: Paragraph['children'][number] & { readonly type: 'image' },
  { reading, images }: Converter,
): readonly Block[] {
  const path = pathInFolder(node.url, reading.file);
  if (path === null) {
    const message = `The picture "${node.url.slice(0, 60)}" lies outside the lab's folder; pictures stand inside it.`;
    tell(reading, node, 'picture-outside-folder', message, 'Copy the picture into text/.');
    return [];
  }
  const bytes = images.get(path);
  if (bytes === undefined) {
    tellUnknown(reading, node, 'missing-image', `There is no picture "${path}".`, path, [...images.keys()]);
    return [];
  }
  const picture = recognisePicture(bytes);
  if (!picture.ok) {
    const message = `"${path}" is neither a PNG nor a JPEG picture.`;
    tell(reading, node, 'unknown-image', message, 'Save it as PNG.');
    return [];
  }
  const alternative = (node.alt ?? '').trim();
  if (alternative === '') {
    const message = `The picture "${path}" has no words for those who cannot see it.`;
    tell(
      reading,
      node,
      'image-without-words',
      message,
      'Write them in the brackets: ![what there is to see](…).',
    );
    return [];
  }
  return [
    {
      kind: 'image',
      file: path,
      bytes,
      ...picture.value,
      alternative,
      caption: joinInlines(node.title ?? ''),
    },
  ];
}

function tableOf(node: Table, converter: Converter): Block {
  const [head, ...rows] = node.children.map((row) =>
    row.children.map((cell): Inlines => inlinesOf(cell.children, converter)),
  );
  return {
    kind: 'table',
    caption: [],
    head: head ?? [],
    rows,
    align: (head ?? []).map((_, column) => (node.align?.[column] === 'right' ? 'right' : 'left')),
    emptyRows: 0,
  };
}

function leafOf(node: LeafDirective, converter: Converter): readonly Block[] {
  const { desk, reading } = converter;
  switch (node.name) {
    case 'figure': {
      const figure = figureBlock(desk, node, inlinesOf(node.children, converter), reading);
      return figure === null ? [] : [figure];
    }
    case 'table':
      return tableBlocks(desk, node, reading) ?? [];
    case 'derivation':
      return derivationBlocks(desk, node, reading) ?? [];
    case 'draft':
      return attributesOf(node, [], reading) === null ? [] : [DRAFT];
    default:
      tellWrongDirective(node, '::', converter);
      return [];
  }
}

function containerOf(node: ContainerDirective, converter: Converter): readonly Block[] {
  const { reading } = converter;
  if (formOf(node.name) === 'block' && !/:{3,}\s*$/u.test(sourceOf(reading, [node]))) {
    // Without its end it would swallow all sections behind it.
    const message = `":::${node.name}" has no end.`;
    tell(reading, node, 'unclosed-directive', message, 'A line of as many colons as it begins with ends it.');
    return [];
  }
  switch (node.name) {
    case 'teacher':
    case 'answer': {
      if (attributesOf(node, [], reading) === null) return [];
      return [{ kind: 'teacher note', blocks: blocksOf(node.children, converter) }];
    }
    case 'level':
      return levelOnly(node, converter);
    case 'question':
      return questionOf(node, converter);
    case 'caution':
      return cautionOf(node, converter);
    default:
      tellWrongDirective(node, ':::', converter);
      return [];
  }
}

function tellWrongDirective(
  node: LeafDirective | ContainerDirective,
  colons: string,
  { reading }: Converter,
): void {
  const form = formOf(node.name);
  if (form === null) {
    const message = `"${colons}${node.name}" is no directive.`;
    tellUnknown(reading, node, 'unknown-directive', message, node.name, ALL_DIRECTIVES);
  } else {
    const message = `"${colons}${node.name}" is not how this directive is written.`;
    tell(reading, node, 'misplaced-directive', message, describeForm(node.name));
  }
}

/** What only some levels read: `:::level{at="algebra calculus"}`. The guide reads all. */
function levelOnly(node: ContainerDirective, converter: Converter): readonly Block[] {
  const { reading, level } = converter;
  const attributes = attributesOf(node, ['at'], reading);
  if (attributes === null) return [];
  const words = (attributes.at ?? '').split(/[\s,;]+/u).filter((word) => word !== '');
  if (words.length === 0)
    tell(reading, node, 'unknown-level', '":::level" names no level: {at="algebra calculus"}.');
  for (const word of words) {
    if (LEVELS.some((known) => known === word)) continue;
    tellUnknown(reading, node, 'unknown-level', `"${word}" is no level.`, word, LEVELS);
  }
  // Faults in a passage are told at every level, so they are looked for even where it is not shown.
  const blocks = blocksOf(node.children, converter);
  return level === null || words.includes(level) ? blocks : [];
}

/** A question: its first paragraph, lines to write on, and what stands in `:::answer` inside it. */
function questionOf(node: ContainerDirective, converter: Converter): readonly Block[] {
  const { reading } = converter;
  const attributes = attributesOf(node, ['lines'], reading);
  if (attributes === null) return [];
  const lines = Number(attributes.lines ?? '2');
  if (!Number.isInteger(lines) || lines < 0 || lines > 40) {
    const message = `"lines" is "${attributes.lines ?? ''}"; a whole number from 0 to 40 stands there.`;
    tell(reading, node, 'wrong-attribute', message);
    return [];
  }
  const isAnswer = (child: Node) => child.type === 'containerDirective' && child.name === 'answer';
  const [first, ...rest] = node.children.filter((child) => !isAnswer(child));
  if (first?.type !== 'paragraph') {
    tell(
      reading,
      node,
      'empty-question',
      '":::question" begins with no paragraph; the question itself stands there.',
    );
    return [];
  }
  const answer = blocksOf(node.children.filter(isAnswer), converter).flatMap((block) =>
    block.kind === 'teacher note' ? block.blocks : [],
  );
  return [
    { kind: 'question', inlines: inlinesOf(first.children, converter), lines, answer },
    ...blocksOf(rest, converter),
  ];
}

/** Cautions of the author: each paragraph or list item is one. */
function cautionOf(node: ContainerDirective, converter: Converter): readonly Block[] {
  if (attributesOf(node, [], converter.reading) === null) return [];
  const items = blocksOf(node.children, converter).flatMap(linesIn);
  return items.length === 0
    ? []
    : [{ kind: 'caution', items, closing: joinInlines(converter.desk.phrases.cautions.closing) }];
}

function linesIn(block: Block): readonly Inlines[] {
  if (block.kind === 'paragraph') return [block.inlines];
  return block.kind === 'list' ? block.items.flatMap((item) => item.flatMap(linesIn)) : [];
}

/** The name of a heading in links: 'Set-up and care' is 'set-up-and-care'. */
export function slugOf(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/gu, '');
}
