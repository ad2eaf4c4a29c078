import { type Size, sizes } from '../../figure/index.ts';
import type { LabDocumentTree } from '../document/index.ts';
import { sansFamily } from '../fonts/index.ts';
import {
  createSheet,
  describeDocument,
  quoted,
  type Sheet,
  typeset,
  typstBlocks,
  typstInlines,
  typstString,
  typstText,
} from '../pdf/index.ts';
import { figureSvg, originLines, wordsOf } from '../writing/index.ts';
import { minutes, slidesOf, type TimedSlide } from './talk.ts';

/** What is left of a slide for a figure that stands alone on it, and for one beside text. */
const ALONE: Size = { ...sizes.slide, widthPt: 840, heightPt: 372, fontPt: 16 };
const WITH_TEXT: Size = { ...sizes.slide, widthPt: 840, heightPt: 235, fontPt: 16 };

/**
 * A talk as PDF of 16:9: the slides first, then pages for the speaker with each slide's words and time.
 *
 * Tagged, with title, language and outline; same tree, same bytes.
 */
export function writeSlidesPdf(tree: LabDocumentTree): Uint8Array {
  const slides = slidesOf(tree);
  const words = wordsOf(tree.settings.language);
  const total = slides.at(-1)?.until ?? 0;
  const size = { of: ALONE };
  const sheet = createSheet(tree, ({ figure }) => figureSvg(figure, '', size.of));
  const pages = slides.map((slide) => {
    size.of = slide.blocks.length > 1 ? WITH_TEXT : ALONE;
    return slidePage(slide, slides.length, sheet);
  });
  const opening = `#align(horizon)[#title()\n\n#text(size: 22pt, fill: luma(70))[${typstText(tree.subtitle)}]\n\n#v(1em)#text(size: 15pt)[${typstText(words.talkTime(minutes(total)))}]\n\n#text(size: 11pt, fill: luma(90))[${originLines(tree).slice(0, 3).map(typstText).join('#linebreak()')}]]`;
  const speaker = slides.map((slide) => speakerPart(slide, slides.length, sheet)).join('\n\n');
  const markup = `${setup(tree)}\n${[opening, ...pages].join('\n#pagebreak()\n')}
#set page(paper: "${tree.settings.paper === 'a4' ? 'a4' : 'us-letter'}", flipped: false, margin: 24mm, footer: none)
#set text(size: 11.5pt)
#show heading.where(level: 1): set text(size: 15pt)
#show heading.where(level: 2): set text(size: 12pt)
#set par(leading: 0.7em, spacing: 1em)
#heading(level: 1)[${typstText(words.speakerNotes)}]

${typstText(words.talkTime(minutes(total)))}

${speaker}
`;
  return typeset(markup, sheet.images);
}

function slidePage(slide: TimedSlide, count: number, sheet: Sheet): string {
  return `#heading(level: 1)[${typstInlines(slide.title, sheet)}]\n\n#slide-body[${typstBlocks(slide.blocks, sheet)}]\n#slide-foot(${typstString(`${slide.number} / ${count}`)})`;
}

function speakerPart(slide: TimedSlide, count: number, sheet: Sheet): string {
  const label = sheet.words.slide(slide.number, count);
  const time = sheet.words.onThisSlide(minutes(slide.seconds), minutes(slide.until));
  return `#heading(level: 2)[${typstText(`${label}: `)}${typstInlines(slide.title, sheet)}]

#text(fill: luma(70))[${typstText(time)}]

${typstBlocks(slide.notes, sheet)}`;
}

function setup(tree: LabDocumentTree): string {
  return `${describeDocument(tree)}
#set page(width: 960pt, height: 540pt, margin: (x: 60pt, top: 44pt, bottom: 40pt))
#set text(font: (${quoted(sansFamily, 'Libertinus Serif', 'New Computer Modern Math', 'DejaVu Sans Mono')}), size: 23pt)
#set par(leading: 0.62em, spacing: 0.9em)
#set list(indent: 0.2em, spacing: 0.75em)
#set enum(indent: 0.2em, spacing: 0.75em)
#show title: set text(size: 44pt)
#show heading.where(level: 1): set text(size: 33pt)
#show heading.where(level: 1): set block(above: 0pt, below: 0.75em)
#show heading.where(level: 2): set text(size: 26pt)
#set table(stroke: (x, y) => (top: if y == 0 { 1.2pt } else if y == 1 { 0.9pt } else { 0.4pt + luma(170) }, bottom: 0.9pt), inset: (x: 10pt, y: 6pt))
#set figure(gap: 0.4em)
#show figure: set align(left)
#show figure.where(kind: table): set figure.caption(position: top)
#show figure.where(kind: table): set text(size: 19pt)
#show figure.caption: it => align(left, text(size: 16pt, fill: luma(60), it.body))
#let fitted(source, width, alternative) = layout(size => image(source, width: calc.min(width, size.width), alt: alternative))
#let blank(characters) = box(width: characters * 0.55em, height: 0.75em, outset: (bottom: 2pt), stroke: (bottom: 0.8pt))
#let hand-width = 90pt
#let empty-cell = table.cell(inset: (y: 12pt))[]
#let leading(body) = body
#let line-of-derivation(equation, note) = block(above: 0.9em, below: 0.9em, breakable: false, {
  show math.equation.where(block: true): set align(left)
  pad(left: 0.8em, equation)
  if note != [] { pad(left: 1.8em, text(size: 0.75em, fill: luma(70), note)) }
})
#let caution(label, body) = block(width: 100%, stroke: (left: 7pt + rgb("#b3261e"), rest: 1.5pt + rgb("#b3261e")), inset: 12pt, {
  text(fill: rgb("#b3261e"), strong(label))
  parbreak()
  body
})
#let note(label, body) = block(width: 100%, fill: luma(244), inset: 10pt)[#strong(label) #body]
#let question(label, lines, body) = block(body)
// A slide that holds too much is set smaller until it fits.
#let slide-body(body) = block(height: 1fr, width: 100%, layout(size => {
  let fits = part => measure(width: size.width / part, body).height * part <= size.height
  let part = (1.0, 0.92, 0.85, 0.78, 0.72, 0.66, 0.6, 0.55, 0.5).find(fits)
  if part == none { part = 0.45 }
  if part == 1.0 { body } else { scale(x: part * 100%, y: part * 100%, origin: top + left, reflow: true, block(width: size.width / part, body)) }
}))
#let slide-foot(label) = place(bottom + right, dy: 22pt, text(size: 12pt, fill: luma(110), label))`;
}
