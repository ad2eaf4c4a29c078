// Turns every document of a folder into PNG pages, to be looked at.
//
//   node scripts/page-images.mjs FOLDER-OF-DOCUMENTS FOLDER-OF-PAGES
//
// PDF by pdftoppm (poppler-utils); .docx and .xlsx by soffice (libreoffice-writer, -calc, -math); HTML by chromium.
// A program that is missing is named in one line, and its formats are left out.
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, extname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [from, to] = process.argv.slice(2);
if (from === undefined || to === undefined) {
  console.error('Say which folder holds the documents, and which is to hold the pages.');
  process.exit(2);
}

const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome', 'microsoft-edge'];
const has = (program) => spawnSync('which', [program]).status === 0;
const browser = BROWSERS.find(has);
const tools = { pdf: has('pdftoppm'), office: has('soffice'), browser: browser !== undefined };
if (!tools.pdf) console.log('pdftoppm is missing (apt-get install poppler-utils): no pages at all.');
if (!tools.office)
  console.log('soffice is missing (apt-get install libreoffice-writer libreoffice-calc libreoffice-math).');
if (!tools.browser) console.log('No browser is there (apt-get install chromium): HTML is left out.');
if (!tools.pdf) process.exit(1);

mkdirSync(to, { recursive: true });
const work = mkdtempSync(join(tmpdir(), 'page-images-'));
let pages = 0;
try {
  for (const file of documentsIn(from)) {
    const pdf = toPdf(file);
    if (pdf === null) continue;
    const name = `${basename(file, extname(file))}-${extname(file).slice(1)}`;
    for (const old of pagesOf(name)) rmSync(join(to, old));
    const run = spawnSync('pdftoppm', ['-r', '80', '-png', pdf, join(to, name)]);
    const made = pagesOf(name).length;
    console.log(run.status === 0 ? `${file}: ${made} pages` : `${file}: pdftoppm failed`);
    pages += made;
  }
} finally {
  rmSync(work, { recursive: true, force: true });
}
console.log(`${pages} pages in ${to}`);

/** Pages of a document that lie in the folder already. */
function pagesOf(name) {
  return readdirSync(to).filter(
    (one) => one.startsWith(`${name}-`) && /^\d+\.png$/.test(one.slice(name.length + 1)),
  );
}

/** Files of the formats that have pages, in the folder and in those below. */
function documentsIn(folder) {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.(pdf|docx|xlsx|html)$/.test(entry.name))
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .sort();
}

/** The path of a PDF of the document; null where the program for it is missing or fails. */
function toPdf(file) {
  const ending = extname(file);
  if (ending === '.pdf') return file;
  if (ending === '.html') return browser === undefined ? null : printPage(file);
  if (!tools.office) return null;
  const copy = join(work, basename(file));
  copyFileSync(file, copy);
  const args = [
    `-env:UserInstallation=${pathToFileURL(join(work, 'profile'))}`,
    '--headless',
    '--convert-to',
    'pdf',
  ];
  const run = spawnSync('soffice', [...args, '--outdir', work, copy]);
  return run.status === 0 ? join(work, `${basename(file, ending)}.pdf`) : null;
}

function printPage(file) {
  const pdf = join(work, `${basename(file, '.html')}-page.pdf`);
  const quiet = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'];
  const alone = ['--disable-background-networking', '--disable-component-update', '--disable-sync'];
  const out = ['--no-pdf-header-footer', `--print-to-pdf=${pdf}`, pathToFileURL(resolve(file)).href];
  return spawnSync(browser, [...quiet, ...alone, ...out]).status === 0 ? pdf : null;
}
