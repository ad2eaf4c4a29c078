import type { LabDocumentTree } from '../document/index.ts';
import { fontFace } from '../fonts/index.ts';
import { originSummary, wordsOf, xmlAttribute, xmlText } from '../writing/index.ts';
import { createPage, htmlBlocks } from './blocks.ts';
import { pageStyle } from './style.ts';

/**
 * A document as one HTML file: nothing outside it is needed, no script is in it, and none could run.
 *
 * It is well-formed XML too. Headings are in order, below the title as the only one of the first level.
 */
export function writeHtml(tree: LabDocumentTree): string {
  const words = wordsOf(tree.settings.language);
  const subtitle = tree.subtitle === '' ? '' : `\n<p class="subtitle">${xmlText(tree.subtitle)}</p>`;
  return `${openPage(tree, pageStyle(tree.settings))}
<body>
<a class="skip" href="#main">${words.skipToContent}</a>
<header>
<h1${titleLanguage(tree)}>${xmlText(tree.title)}</h1>${subtitle}
</header>
<main id="main">
${htmlBlocks(tree.blocks, createPage(tree, 1))}
</main>
<footer>
<p>${xmlText(originSummary(tree))}</p>
</footer>
</body>
</html>
`;
}

/** The attribute that names the language of a title which is not the document's; nothing where it is. */
export function titleLanguage({ titleLanguage: language }: LabDocumentTree): string {
  return language === undefined
    ? ''
    : ` lang="${xmlAttribute(language)}" xml:lang="${xmlAttribute(language)}"`;
}

/** Everything of a page before its body: language, title, where it came from, style, and a ban on all that is active. */
export function openPage(tree: LabDocumentTree, style: string): string {
  const { provenance, settings } = tree;
  const metas = [
    ['viewport', 'width=device-width, initial-scale=1'],
    ['generator', provenance.madeBy],
    ['benchwright-digest', provenance.digest],
    ['benchwright-kind', tree.kind],
    ...(tree.level === null ? [] : [['benchwright-level', tree.level]]),
    ...provenance.sources.map(({ file, sha256 }) => ['benchwright-source', `${file} ${sha256}`]),
    ...(tree.licence === '' ? [] : [['dcterms.license', tree.licence]]),
  ].map(([name, content]) => `<meta name="${name}" content="${xmlAttribute(content ?? '')}"/>`);
  const language = xmlAttribute(settings.language);
  return `<!DOCTYPE html>
<html lang="${language}" xml:lang="${language}" xmlns="http://www.w3.org/1999/xhtml">
<head>
<meta charset="utf-8"/>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'"/>
<title>${xmlText(tree.title)}</title>
${metas.join('\n')}
<style>
${fontFace()}${style}
</style>
</head>`;
}
