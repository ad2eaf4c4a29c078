import {
  type ChartFigure,
  darkTheme,
  figureToSvg,
  groupOverlays,
  lightTheme,
  type Theme,
  validityFigure,
  type Wording,
} from '../../figure/index.ts';
import { allEffects, groupRuns, mainGroup, valuesOfGroup } from '../../run/index.ts';
import { type Block, type LabDocumentTree, paragraph } from '../document/index.ts';
import { createDesk, draftCautions } from '../draft/index.ts';
import type { Gathered } from '../gather/index.ts';
import { createPage, htmlBlocks, titleLanguage } from '../html/index.ts';
import { languageOf, phrasesOf } from '../language/index.ts';
import { xmlAttribute, xmlText } from '../writing/index.ts';

/** What an explorer shows before its engine runs, and without it: HTML that was made here. */
export interface ExplorerPages {
  /** Title, question, cautions and a first figure. */
  readonly opening: string;
  /** The handouts, with the author's texts in them. */
  readonly papers: string;
}

/** Between a phone and a desk, CSS pixels: the first figure is drawn once, and scaled until the living one is there. */
const WIDTH = 420;

/** Height over width, as the living figures have it. */
const RATIO = 0.66;

/**
 * The parts of an explorer that need no engine.
 *
 * @param handouts the drafted handouts, one a level; the first tells the settings
 */
export function draftPages(
  gathered: Gathered,
  handouts: readonly LabDocumentTree[],
  translated: ReadonlySet<string> | undefined,
): ExplorerPages {
  const [first] = handouts;
  if (first === undefined) return { opening: '', papers: '' };
  const language = languageOf(first.settings.language);
  const code = language.ok ? language.value : 'en';
  const phrases = phrasesOf(code);
  const wording = { language: code, decimalMark: first.settings.decimalMark };
  const desk = createDesk(gathered, phrases, wording, first.settings, translated);
  const { lab, names } = desk;
  const words = (text: string): readonly Block[] =>
    text.trim() === '' ? [] : [paragraph(...names.words(text.trim()))];
  const page = createPage(first, 1);
  const figure = firstFigure(gathered, wording);
  const opening = `<h1${titleLanguage(first)}>${xmlText(first.title)}</h1>
<div class="question">${htmlBlocks(words(lab.question), page)}</div>
${htmlBlocks([...words(gathered.extras.about), draftCautions(desk, 'students')], page)}
<p id="waiting">${xmlText(phrases.explorer.waiting)}</p>
<div class="bench">
<section id="figures-part" aria-label="${xmlAttribute(phrases.explorer.figures)}"><h2>${xmlText(phrases.explorer.figures)}</h2>
<div class="figures" id="figures">${figure === null ? '' : drawings(figure)}</div></section>
</div>`;
  const papers = handouts.map(
    (tree, index) => `<details class="paper" name="paper">
<summary>${xmlText(phrases.explorer.paper(tree.subtitle))}</summary>
<div>
${htmlBlocks(tree.blocks, { ...createPage(tree, 2), idPrefix: `paper-${index + 1}-`, cautions: 1 })}
</div>
</details>`,
  );
  return { opening, papers: papers.join('\n') };
}

/** Theory, model and one run of the lab's own settings, for all would be the larger part of the file; else the motion. */
function firstFigure({ pipeline, trials, reduced }: Gathered, wording: Wording): ChartFigure | null {
  const { lab } = pipeline;
  const groups = groupRuns(lab, trials);
  const main = mainGroup(groups);
  const group = groups[main];
  if (group === undefined) return null;
  const run = reduced?.runs.find((one) => one.group === main);
  const [overlay] = groupOverlays(pipeline, group, run === undefined ? [] : [run.fits], wording);
  if (overlay !== undefined) return overlay;
  if (lab.model.kind !== 'motion') return null;
  const found = pipeline.simulate(valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(lab)));
  if (!found.ok || found.value.motion === null) return null;
  return validityFigure(found.value.motion, lab.model.model, wording);
}

/** In light and in dark: the page shows one of the two. */
function drawings(figure: ChartFigure): string {
  const size = {
    widthPt: WIDTH,
    heightPt: Math.round(WIDTH * RATIO),
    fontPt: 13,
    shows: 'everything',
  } as const;
  const draw = (theme: Theme, idPrefix: string): string => figureToSvg(figure, { theme, size, idPrefix });
  return `<div class="figure first light">${draw(lightTheme, 'first-light-')}</div><div class="figure first dark">${draw(darkTheme, 'first-dark-')}</div>`;
}
