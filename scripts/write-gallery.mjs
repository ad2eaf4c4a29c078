// Writes labs/README.md, the gallery: of each lab that the README lists the question, a picture of its readings and what
// came out, all computed. With --check it only compares and fails where the page or a picture is out of date.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import {
  createPipeline,
  darkTheme,
  figureToSvg,
  fitFigure,
  formatEstimate,
  ledgerFigure,
  lightTheme,
  loadTrials,
  readLab,
  reconcile,
  reduceTrials,
  settingFigure,
} from '../dist/index.mjs';

const labs = new URL('../labs/', import.meta.url);
const wording = { language: 'en', decimalMark: '.' };
const isCheck = process.argv.includes('--check');

const VERDICTS = {
  explained: 'explained',
  doubtful: 'doubtful',
  unexplained: 'something is missing',
  unknown: 'cannot be judged',
};

const listed = [...read(new URL('../README.md', labs)).matchAll(/\]\(labs\/([\w-]+)\) \|/g)].map(
  ([, name]) => name,
);
const there = readdirSync(labs).filter((name) => existsSync(new URL(`${name}/lab.yaml`, labs)));
const missing = there.filter((name) => !listed.includes(name));
if (missing.length > 0) {
  console.error(`The table of labs in README.md does not list ${missing.join(', ')}.`);
  process.exit(1);
}

const files = new Map();
const lines = [
  '# The labs that come along',
  '',
  'Made by `npm run docs`; do not edit by hand. Every number is computed from the lab’s own files. **The readings are',
  'invented for the demo: nobody measured them, and no class has tried these labs.** `benchwright new my-lab --from NAME`',
  'makes a lab of your own from any of them.',
  '',
];
for (const name of listed) lines.push(...(await describeLab(name)));
lines.push(
  '---',
  '',
  'Uncertainties are standard uncertainties. *Left* is measured minus full model; “explained” means that it lies within its',
  'uncertainty. Cautions stand in each `lab.yaml`; the school’s own rules, local codes and the responsible, qualified staff',
  'decide whether and how a lab is done.',
);
files.set('README.md', `${lines.join('\n')}\n`);

const pictures = new URL('pictures/', labs);
const old = existsSync(pictures)
  ? readdirSync(pictures).filter((file) => !files.has(`pictures/${file}`))
  : [];
if (isCheck) {
  const differs = [...files]
    .filter(([file, text]) => read(new URL(file, labs)) !== text)
    .map(([file]) => file);
  const stale = [...differs, ...old.map((file) => `pictures/${file}`)];
  if (stale.length > 0) {
    console.error(`Out of date in labs/: ${stale.join(', ')}. Run: npm run docs`);
    process.exitCode = 1;
  }
} else {
  mkdirSync(pictures, { recursive: true });
  for (const file of old) rmSync(new URL(file, pictures));
  for (const [file, text] of files) writeFileSync(new URL(file, labs), text);
}

async function describeLab(name) {
  const folder = new URL(`${name}/`, labs);
  const lab = must(readLab(read(new URL('lab.yaml', folder)), 'lab.yaml'));
  const pipeline = createPipeline(lab);
  const bytesOf = async (file) => ({
    ok: true,
    value: new Uint8Array(readFileSync(new URL(file, folder))),
    warnings: [],
  });
  const trials = must(await loadTrials(lab, bytesOf));
  const { ledgers, main } = must(reconcile(pipeline, trials));
  const spoken = lab.results.flatMap((result) => ledgers[main.get(result.name)] ?? []);
  const figure = pictureOf(pipeline, must(reduceTrials(pipeline, trials)), [
    spoken[0],
    ...ledgers.filter((ledger) => ledger !== spoken[0]),
  ]);
  for (const [suffix, theme] of [
    ['', lightTheme],
    ['-dark', darkTheme],
  ])
    files.set(`pictures/${name}${suffix}.svg`, figureToSvg(figure, { theme, idPrefix: `${name}-` }));
  return [
    `## [${lab.title}](${name})`,
    '',
    `**${lab.question}**`,
    '',
    '<picture>',
    `  <source media="(prefers-color-scheme: dark)" srcset="pictures/${name}-dark.svg">`,
    `  <img src="pictures/${name}.svg" alt="${forAttribute(figure.title)}" width="560">`,
    '</picture>',
    '',
    '| result | theory | full model | measured | left |',
    '| --- | --- | --- | --- | --- |',
    ...spoken.map(describeResult),
    '',
  ];
}

/** The fit across runs that gives the first result, or that result over the settings, or one run's fit, or the ledger. */
function pictureOf(pipeline, { groups, runs, acrossFits }, ledgers) {
  const [{ result }] = ledgers;
  const [across] = acrossFits;
  if (result.scope === 'across' && across !== undefined) return fitFigure(across, wording);
  const setting = settingFigure(pipeline, result, groups, ledgers, wording);
  if (setting.ok) return setting.value;
  const [fit] = runs.flatMap(({ fits }) => fits.slice(0, 1));
  return fit === undefined ? ledgerFigure(ledgers[0], wording) : fitFigure(fit, wording);
}

function describeResult({ result, group, theory, full, measured, remainder }) {
  const print = (value) =>
    value === null ? '' : formatEstimate(value, result.unit, { notation: 'plus-minus', decimalMark: '.' });
  const where = group === null || group === 'as given' ? '' : `, ${group}`;
  const left =
    remainder === null ? '' : `${VERDICTS[remainder.verdict]} (${Math.abs(remainder.z).toFixed(1)} u)`;
  const cells = [
    `${result.is === '' ? result.name : result.is}${where}`,
    printTheory(theory, full, print),
    print(full),
    print(measured),
    left,
  ];
  return `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
}

function forAttribute(text) {
  return text.replaceAll('&', '&amp;').replaceAll('"', '&quot;').replaceAll('<', '&lt;');
}

/** Theory that is exact has the digits of the full model beside which it stands. */
function printTheory(theory, full, print) {
  if (theory === null || theory.standardUncertainty > 0 || !(full.standardUncertainty > 0))
    return print(theory);
  const rounded = print({ ...theory, standardUncertainty: full.standardUncertainty });
  return rounded.replace(/^\((.*) ± [^)]*\)/, '$1').replace(/^(.*) ± .*$/, '$1');
}

/** A text file, '' where it is missing. */
function read(url) {
  return existsSync(url) ? readFileSync(url, 'utf8') : '';
}

function must(outcome) {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map(({ message }) => message).join('\n'));
}
