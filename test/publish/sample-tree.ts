import { deflateSync } from 'node:zlib';
import { parseEquation, parseExpression, type Tree } from '../../src/expression/index.ts';
import { type ChartFigure, fromText, italic, joinText, upright } from '../../src/figure/index.ts';
import {
  type Block,
  type DocumentKind,
  type Inline,
  joinInlines,
  type LabDocumentTree,
  list,
  makeProvenance,
  type PrintSettings,
  paragraph,
  plainNumber,
  point,
  question,
  say,
  strong,
  teacherNote,
} from '../../src/publish/document/index.ts';
import { parseUnit, type Unit } from '../../src/quantity/index.ts';

/** Text that would do harm in one format or another, were it not shown as text. */
export const HOSTILE = {
  markup: '<script>alert("x")</script><img src=x onerror=alert(1)> & </p>]]>',
  formula: '=HYPERLINK("http://example.org","pay")',
  typst: '#panic("run") $x$ *b* _i_ @ref <label> \\ ` [ ] { } // c /* c */ ~ #read("/etc/passwd")',
  field: '{ INCLUDETEXT "/etc/passwd" } </w:t><w:br/>',
  python: '"""\nimport os; os.abort()\n"""',
} as const;

function unit(text: string): Unit {
  const read = parseUnit(text);
  if (!read.ok) throw new Error(`no unit: ${text}`);
  return read.value;
}

export function tree(text: string): Tree {
  const read = parseExpression(text);
  if (!read.ok) throw new Error(`no expression: ${text}`);
  return read.value.tree;
}

function equation(text: string, note: readonly Inline[] = []): Block {
  const read = parseEquation(text);
  if (!read.ok) throw new Error(`no equation: ${text}`);
  return { kind: 'equation', left: read.value.left.tree, right: read.value.right.tree, note };
}

export const english: PrintSettings = {
  language: 'en',
  decimalMark: '.',
  paper: 'a4',
  notation: 'plus-minus',
};
export const german: PrintSettings = { language: 'de', decimalMark: ',', paper: 'a4', notation: 'brackets' };

function sampleFigure(name = 'slope'): ChartFigure {
  const x = [0.05, 0.1, 0.2, 0.35, 0.5, 0.7];
  const y = [0.11, 0.25, 0.55, 1.02, 1.49, 2.11];
  return {
    kind: 'chart',
    name,
    title: 'Square of the speed against square of the distance',
    description:
      'Six readings rise in step from 0.11 to 2.11 m²/s²; the fitted line passes within every bar.',
    language: 'en',
    decimalMark: '.',
    statement: [],
    x: {
      kind: 'linear',
      quantity: joinText(italic('x'), fromText('²')),
      unit: 'm²',
      includes: [0],
      range: null,
    },
    panels: [
      {
        y: {
          kind: 'linear',
          quantity: joinText(italic('v'), fromText('²')),
          unit: 'm²/s²',
          includes: [0],
          range: null,
        },
        share: 1,
        marks: [
          {
            kind: 'points',
            role: 'measured',
            name: upright('measured'),
            x,
            y,
            ux: null,
            uy: x.map(() => 0.05),
          },
          { kind: 'curve', role: 'fit', name: upright('fit'), x: [0, 0.7], y: [-0.05, 2.12] },
        ],
      },
    ],
  };
}

/** A grey picture of 2 × 2 points, made here so that no file is read. */
function tinyPng(): Uint8Array {
  const chunk = (type: string, data: Uint8Array): Buffer => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
    const out = Buffer.alloc(8 + body.length);
    out.writeUInt32BE(data.length, 0);
    body.copy(out, 4);
    out.writeUInt32BE(crc(body), 4 + body.length);
    return out;
  };
  const header = Buffer.from([0, 0, 0, 2, 0, 0, 0, 2, 8, 0, 0, 0, 0]);
  const rows = deflateSync(Buffer.from([0, 40, 200, 0, 200, 40]));
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', rows),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function crc(bytes: Uint8Array): number {
  let value = 0xffffffff;
  for (const byte of bytes) {
    value ^= byte;
    for (let k = 0; k < 8; k++) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
  }
  return (value ^ 0xffffffff) >>> 0;
}

const slope = point(2.7543, 0.0187, unit('1/s^2'));

/** Every kind of block and of inline, in an order that a document could have. */
export const SAMPLE_BLOCKS: readonly Block[] = [
  { kind: 'heading', level: 1, inlines: say`Aim`, id: 'aim' },
  paragraph(
    'A trolley is drawn by its own chain. You find out whether ',
    { kind: 'formula', tree: tree('v^2') },
    ' grows in step with ',
    { kind: 'tex', tex: 'x^2' },
    ', and whether the slope is ',
    slope,
    ' as theory says ',
    { kind: 'citation', keys: ['moreau', 'jean'] },
    '. The chain has ',
    point(0.0964, 0.0001, unit('g')),
    '; ',
    { kind: 'emphasis', inlines: say`read this twice` },
    ', ',
    strong('then begin'),
    '. More stands ',
    { kind: 'link', to: 'https://example.org/labs?a=1&b=2', inlines: say`on this page` },
    '; the file is ',
    { kind: 'code', text: 'lab.yaml' },
    '.',
  ),
  {
    kind: 'caution',
    items: [
      say`The free end of a running chain whips. Wear eye protection.`,
      say`The trolley arrives with ${point(1.62, 0, unit('m/s'), 3)}; put foam against the end of the track.`,
    ],
    closing: say`The school's own rules, local codes and the responsible, qualified staff decide.`,
  },
  { kind: 'heading', level: 2, inlines: say`How theory gets there`, id: 'theory' },
  equation("(m_t + m_c)*x'' = lambda*g*x", say`the hanging part pulls, everything moves`),
  equation('1/2*(m_t + m_c)*v^2 = integrate(lambda*g*s, s, x_0, x)', say`work becomes kinetic energy`),
  equation('v^2 = m_c*g/(L*(m_t + m_c))*(x^2 - x_0^2)'),
  { kind: 'display tex', tex: '\\bar{v} = \\frac{\\Delta x}{\\Delta t} \\approx \\sqrt{2 g h}' },
  { kind: 'heading', level: 1, inlines: say`What to do`, id: 'procedure' },
  list(true, [
    say`Weigh the trolley: ${{ kind: 'blank', characters: 12 }} g.`,
    say`Let the chain hang ${point(0.15, 0, unit('cm'), 3)} below the axle.`,
    say`Let go. Do not push.`,
  ]),
  {
    kind: 'list',
    ordered: false,
    items: [[paragraph('a point with'), list(false, [say`an inner point`])], [paragraph('a last point')]],
  },
  {
    kind: 'table',
    caption: say`Slope at each length of the chain.`,
    head: [say`chain`, say`L / m`, say`slope`],
    rows: [
      [say`short`, [plainNumber(0.9, 2)], [point(3.31, 0.04, unit('1/s^2'))]],
      [say`middle`, [plainNumber(1.25, 3)], [slope]],
      [say`long`, [plainNumber(11.5, 3)], [point(2.361, 0.021, unit('1/s^2'))]],
    ],
    align: ['left', 'number', 'right'],
    emptyRows: 2,
  },
  { kind: 'figure', figure: sampleFigure(), caption: say`Readings and line; the slope is ${slope}.` },
  {
    kind: 'image',
    file: 'text/setup.png',
    bytes: tinyPng(),
    mediaType: 'image/png',
    widthPixels: 2,
    heightPixels: 2,
    alternative: 'The track with the wheel at its end.',
    caption: say`The track.`,
  },
  question(
    say`Which effects make the slope smaller?`,
    3,
    paragraph('Rolling resistance and air: together ', plainNumber(-4.2, 2), ' %.'),
  ),
  teacherNote(paragraph('Most groups find ', slope, '.')),
  { kind: 'code', language: 'python', text: 'while x < x_end:\n    v = v + a * dt\n' },
  { kind: 'page break' },
  { kind: 'heading', level: 1, inlines: say`References`, id: 'references' },
  {
    kind: 'references',
    entries: [
      {
        key: 'moreau',
        inlines: joinInlines('A first entry, ', { kind: 'emphasis', inlines: say`a title` }, '.'),
      },
      { key: 'jean', inlines: say`A second entry.` },
    ],
  },
];

const SOURCES = [
  { file: 'lab.yaml', sha256: 'a'.repeat(64) },
  { file: 'trials/a1.csv', sha256: 'b'.repeat(64) },
];

export function sampleTree(
  blocks: readonly Block[] = SAMPLE_BLOCKS,
  settings: PrintSettings = english,
  kind: DocumentKind = 'teacher guide',
): LabDocumentTree {
  return {
    kind,
    level: 'algebra',
    title: 'A trolley drawn by its own tow chain',
    subtitle: 'Does the speed grow in step with the distance?',
    settings,
    licence: 'CC-BY-4.0',
    provenance: makeProvenance(SOURCES, settings, 'Benchwright 0.1.0'),
    blocks,
  };
}

/** The hostile texts in every place that holds an author's text. */
export function hostileTree(): LabDocumentTree {
  const each = Object.values(HOSTILE);
  const blocks: readonly Block[] = each.flatMap((text, index): Block[] => [
    { kind: 'heading', level: 1, inlines: say`${text}`, id: text },
    paragraph(text, { kind: 'emphasis', inlines: say`${text}` }, { kind: 'code', text }),
    paragraph({ kind: 'link', to: `javascript:alert(${index})`, inlines: say`${text}` }),
    { kind: 'caution', items: [say`${text}`], closing: say`${text}` },
    {
      kind: 'table',
      caption: say`${text}`,
      head: [say`${text}`],
      rows: [[say`${text}`]],
      align: ['left'],
      emptyRows: 0,
    },
    { kind: 'figure', figure: { ...sampleFigure(), title: text, description: text }, caption: say`${text}` },
    { kind: 'code', language: text, text },
    question(say`${text}`, 1, paragraph(text)),
    { kind: 'display tex', tex: text },
    { kind: 'references', entries: [{ key: text, inlines: say`${text}` }] },
  ]);
  return { ...sampleTree(blocks), title: HOSTILE.typst, subtitle: HOSTILE.markup, licence: HOSTILE.formula };
}

/** A talk of two slides. */
export function sampleTalk(settings: PrintSettings = english): LabDocumentTree {
  return sampleTree(
    [
      {
        kind: 'slide',
        title: say`A pull that grows with the distance`,
        blocks: [
          list(false, [say`The chain pulls its own trolley.`, say`We expect a slope of ${slope}.`]),
          equation('v^2 = m_c*g/(L*(m_t + m_c))*(x^2 - x_0^2)'),
        ],
        seconds: 90,
        notes: [paragraph('Let the trolley run once before you speak.')],
      },
      {
        kind: 'slide',
        title: say`What was measured`,
        blocks: [{ kind: 'figure', figure: sampleFigure(), caption: say`Six readings.` }],
        seconds: 150,
        notes: [paragraph('Point at the third reading: ', slope, '.')],
      },
    ],
    settings,
    'talk',
  );
}
