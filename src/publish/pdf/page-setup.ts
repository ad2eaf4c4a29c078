import type { LabDocumentTree } from '../document/index.ts';
import { sansFamily } from '../fonts/index.ts';
import { originSummary, wordsOf } from '../writing/index.ts';
import { typstString, typstText } from './typst-string.ts';

/** Families that come with the typesetter, in the order in which a sign is looked for; no other is ever used. */
const bookFamilies = ['Libertinus Serif', 'New Computer Modern Math', sansFamily, 'DejaVu Sans Mono'];

/** Title, language and origin, as the file's own data. */
export function describeDocument(tree: LabDocumentTree): string {
  const { title, provenance, settings } = tree;
  const keywords = [
    `digest:${provenance.digest}`,
    ...provenance.sources.map(({ file, sha256 }) => `source:${file} ${sha256}`),
  ];
  const [language = 'en', region] = settings.language.split('-');
  const lang = /^[a-z]{2,3}$/i.test(language) ? language.toLowerCase() : 'en';
  const place =
    region !== undefined && /^[a-z]{2}$/i.test(region) ? `, region: "${region.toUpperCase()}"` : '';
  return `#set document(title: ${typstString(title === '' ? tree.kind : title)}, author: ${typstString(provenance.madeBy)}, date: none, keywords: (${keywords.map(typstString).join(', ')},))
#set text(lang: "${lang}"${place}, fallback: false, hyphenate: auto)
#show raw: set text(font: (${quoted('DejaVu Sans Mono', ...bookFamilies)}), size: 0.9em)
#show math.equation: set text(font: (${quoted('New Computer Modern Math', ...bookFamilies)}))`;
}

interface Sizes {
  readonly margins: string;
  /** Between the text and the foot of the page. */
  readonly descent: string;
  readonly text: string;
  readonly title: string;
  readonly heading: string;
  /** Above a heading. */
  readonly above: string;
  /** Above and below what stands in a cell. */
  readonly cell: string;
}

const PAGES: Sizes = {
  margins: '(x: 25mm, top: 22mm, bottom: 24mm)',
  descent: '30%',
  text: '10.5pt',
  title: '19pt',
  heading: '14pt',
  above: '1.5em',
  cell: '4.5pt',
};

/** A group's sheet is one page where that can be, so it is set closer. */
const SHEETS: Sizes = {
  margins: '(x: 22mm, top: 12mm, bottom: 22mm)',
  descent: '5pt',
  text: '9.5pt',
  title: '14pt',
  heading: '11.5pt',
  above: '1.1em',
  cell: '3.5pt',
};

/** Whether the origin stands at the foot of the last page, where it takes no room from what is filled in. */
export function hasOriginAtFoot({ kind }: LabDocumentTree): boolean {
  return kind === 'data sheet';
}

/** Paper, type and the shapes of a document's parts. */
export function pageSetup(tree: LabDocumentTree): string {
  const { settings, title, provenance } = tree;
  const words = wordsOf(settings.language);
  const paper = settings.paper === 'a4' ? 'a4' : 'us-letter';
  const sizes = hasOriginAtFoot(tree) ? SHEETS : PAGES;
  const origin = hasOriginAtFoot(tree)
    ? `\n  if counter(page).get() == counter(page).final() { block(above: 5pt, text(size: 7pt)[#set par(leading: 0.4em); ${typstText(originSummary(tree))}]) }`
    : '';
  const foot = `${title} \u00b7 ${provenance.madeBy} \u00b7 ${provenance.digest.slice(0, 12)}`;
  return `${describeDocument(tree)}
#set page(paper: "${paper}", margin: ${sizes.margins}, footer-descent: ${sizes.descent}, footer: context {
  set text(size: 8pt, fill: luma(90))
  grid(columns: (1fr, auto), column-gutter: 1em, ${typstString(foot)}, [#${typstString(words.page)}; #counter(page).display() #${typstString(words.of)}; #counter(page).final().first()])${origin}
})
#set text(font: (${quoted(...bookFamilies)}), size: ${sizes.text})
#set par(leading: 0.68em, spacing: 0.95em, justify: false)
#set list(indent: 0.4em, spacing: 0.65em)
#set enum(indent: 0.4em, spacing: 0.65em)
#show title: set text(size: ${sizes.title})
#show title: set par(leading: 0.45em)
#show heading: set block(above: ${sizes.above}, below: 0.75em, sticky: true)
#show heading.where(level: 1): set text(size: ${sizes.heading})
#show heading.where(level: 2): set text(size: 12pt)
#show heading.where(level: 3): set text(size: 10.5pt)
#show raw.where(block: true): it => block(width: 100%, fill: luma(246), inset: 7pt, it)
#set table(stroke: (x, y) => (top: if y == 0 { 0.8pt } else if y == 1 { 0.6pt } else { 0.3pt + luma(170) }, bottom: 0.6pt), inset: (x: 6pt, y: ${sizes.cell}))
#set figure(gap: 0.7em)
#show figure: set block(above: 1.4em, below: 1.4em)
#show figure.where(kind: table): set figure.caption(position: top)
#show figure.caption: it => align(left, block(sticky: it.kind == table, text(size: 9.5pt)[#strong[#it.supplement #context it.counter.display(it.numbering).] #it.body]))
#show figure: set align(left)
#show link: set text(fill: rgb("#0b57a4"))
${PARTS}`;
}

/** Parts that markup cannot say by itself. Ruled lines and gaps are drawings: a screen reader passes them by. */
const PARTS = `#let fitted(source, width, alternative) = layout(size => image(source, width: calc.min(width, size.width), alt: alternative))
#let leading(body) = block(sticky: true, above: 0.95em, below: 0.95em, body)
#let blank(characters) = box(width: characters * 0.55em, height: 0.75em, outset: (bottom: 2pt), stroke: (bottom: 0.6pt))
#let hand-width = 30mm
#let empty-cell = table.cell(stroke: 0.4pt + luma(120), inset: (y: 9pt))[]
#let line-of-derivation(equation, note) = block(above: 1.1em, below: 1.1em, breakable: false, {
  show math.equation.where(block: true): set align(left)
  layout(size => {
    let width = measure(equation).width
    let beside = measure(note).width
    if note == [] { pad(left: 1.5em, equation) } else if width + beside + 48pt <= size.width {
      grid(columns: (1fr, auto), align: (left + horizon, right + horizon), column-gutter: 1.5em, pad(left: 1.5em, equation), text(size: 9.5pt, fill: luma(70), note))
    } else {
      pad(left: 1.5em, equation)
      pad(left: 3em, text(size: 9.5pt, fill: luma(70), note))
    }
  })
})
#let caution(label, body) = block(width: 100%, above: 1.3em, below: 1.3em, breakable: false, stroke: (left: 5pt + rgb("#b3261e"), rest: 1.2pt + rgb("#b3261e")), inset: (left: 12pt, rest: 9pt), {
  block(below: 0.7em, sticky: true, text(fill: rgb("#b3261e"), size: 11.5pt, strong(label)))
  body
})
#let note(label, body) = block(width: 100%, above: 1em, below: 1em, fill: luma(244), stroke: (left: 2.5pt + luma(110)), inset: (left: 10pt, rest: 7pt), {
  block(below: 0.6em, sticky: true, strong(label))
  body
})
#let ruled(lines) = pdf.artifact(for _ in range(lines) { block(width: 100%, height: 8mm, above: 0pt, below: 0pt, stroke: (bottom: 0.4pt + luma(140))) })
#let question(label, lines, body) = block(width: 100%, above: 1.1em, below: 1.1em, breakable: lines > 12, {
  [#strong(label) #body]
  if lines > 0 { ruled(lines) }
})`;

/** Names of families as a list of the typesetter's language. */
export function quoted(...families: readonly string[]): string {
  return [...new Set(families)].map((family) => `"${family}"`).join(', ');
}
