import { sizes } from '../../figure/index.ts';
import { type LabDocumentTree, linesOf, plainLine, walkBlocks } from '../document/index.ts';
import { createPage, htmlBlocks, htmlInlines, openPage, pageStyle, titleLanguage } from '../html/index.ts';
import { originSummary, wordsOf, xmlText } from '../writing/index.ts';
import { minutes, slidesOf, type TimedSlide } from './talk.ts';

/** A slide fills the window; notes stand below it, and are left out when the talk is printed as slides. */
const SLIDE_STYLE = `
body{max-width:none;padding:0}
html{scroll-snap-type:y proximity;scroll-padding:0}
.slide{min-height:100vh;padding:5vh 6vw 4vh;scroll-snap-align:start;display:flex;flex-direction:column;font-size:calc(clamp(1.1rem,2.3vw,2.1rem)*var(--fit,1));border-bottom:1px solid var(--rule)}
.slide h1{font-size:2em;margin:auto 0 .3em}.slide h2{font-size:1.5em;margin:0 0 .6em}
.slide .subtitle{font-size:1.1em;margin-bottom:auto}
.slide figure{margin:.2em 0}.slide figure svg{width:100%;height:auto;max-height:64vh}
.slide figcaption{font-size:.7em}
.slide .place{margin-top:auto;text-align:right;font-size:.55em;color:var(--quiet)}
.notes{background:var(--tint);padding:1.2rem 6vw;font-size:1rem}
.notes .time{font-weight:600}
footer{padding:1rem 6vw;margin:0}
@page{size:297mm 167mm;margin:0}
@media print{html{font-size:11pt}.slide{min-height:166mm;break-after:page;border:0;padding:10mm 14mm 6mm;font-size:calc(18pt*var(--fit,1))}.slide figure svg{max-height:106mm}.notes,footer,.skip{display:none}}`;

/**
 * A talk as one HTML file: a slide a window, what the speaker says and its time below; no script.
 */
export function writeSlidesHtml(tree: LabDocumentTree): string {
  const words = wordsOf(tree.settings.language);
  const slides = slidesOf(tree);
  const page = createPage(tree, 2, sizes.slide);
  const total = minutes(slides.at(-1)?.until ?? 0);
  const sections = slides.map((slide) => {
    const label = words.slide(slide.number, slides.length);
    return `<section class="slide" aria-label="${label}"${fitOf(slide, tree)}>
<h2>${htmlInlines(slide.title, page)}</h2>
${htmlBlocks(slide.blocks, page)}
<p class="place">${slide.number} / ${slides.length}</p>
</section>
<aside class="notes" aria-label="${words.speakerNotes} ${slide.number}">
<p class="time">${xmlText(words.onThisSlide(minutes(slide.seconds), minutes(slide.until)))}</p>
${htmlBlocks(slide.notes, page)}
</aside>`;
  });
  const subtitle = tree.subtitle === '' ? '' : `<p class="subtitle">${xmlText(tree.subtitle)}</p>\n`;
  return `${openPage(tree, pageStyle(tree.settings) + SLIDE_STYLE)}
<body>
<a class="skip" href="#main">${words.skipToContent}</a>
<main id="main">
<header class="slide">
<h1${titleLanguage(tree)}>${xmlText(tree.title)}</h1>
${subtitle}<p class="place">${xmlText(words.talkTime(total))}</p>
</header>
${sections.join('\n')}
</main>
<footer>
<p>${xmlText(originSummary(tree))}</p>
</footer>
</body>
</html>
`;
}

/** Letters that a slide holds in full size; one with more is set smaller, so that a window holds it. */
const ROOMY = 420;

function fitOf({ blocks }: TimedSlide, { settings }: LabDocumentTree): string {
  const lines = [...walkBlocks(blocks)].flatMap(linesOf);
  const letters = lines.reduce((sum, line) => sum + plainLine(line, settings).length, 0);
  return letters <= ROOMY ? '' : ` style="--fit:${Math.max(0.45, Math.sqrt(ROOMY / letters)).toFixed(2)}"`;
}
