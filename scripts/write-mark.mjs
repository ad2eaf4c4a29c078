// Writes docs/mark.md: how marking works, and how often it is right, calibrated by rehearsal with slips planted at
// random in the reports of groups that the marker has not seen. Takes a few minutes.
import { readFileSync, writeFileSync } from 'node:fs';
import {
  calibrateMarker,
  createPipeline,
  EFFECT_TIMES,
  generalSlips,
  PRIORS,
  prepareMarker,
  readLab,
  UNKNOWN_SPREAD,
} from '../dist/index.mjs';

const REHEARSALS = 100;
const REPORTS = 100;
const labs = ['tow-chain', 'draped-chain', 'falling-chain', 'long-swing'];

const page = new URL('../docs/mark.md', import.meta.url);
const percent = (share) => `${Math.round(100 * share)} %`;
const lines = [
  '# How marking works, and how often it is right',
  '',
  'Written by `node scripts/write-mark.mjs`; do not edit by hand.',
  '',
  '`mark` takes the numbers that a group reports and ranks what would produce them. It is a help for a conversation,',
  'not a grade. `--list` takes a class list and `--out` writes it back, marked, as CSV and as a page; `--data` takes the',
  'readings of a group; `--language de` tells slips in German. The app has the same under Classroom.',
  '',
  '## What is considered',
  '',
  '| cause | what it predicts | prior |',
  '| --- | --- | --- |',
  `| nothing is wrong | the rehearsed results of the station | ${percent(PRIORS.correct)} |`,
  `| one slip, of the lab or of the general set | the same rehearsed readings, gone wrong | ${percent(PRIORS.slips)}, shared; a slip of the lab counts twice |`,
  `| two slips at once | both applied to a run without noise | ${percent(PRIORS.pairs)}, shared |`,
  `| an effect larger than assumed | ${EFFECT_TIMES.least} to ${EFFECT_TIMES.most} times as large, even in the logarithm | ${percent(PRIORS.effects)}, shared |`,
  `| nothing known | anything, spread by ${percent(UNKNOWN_SPREAD)} of the right result | ${percent(PRIORS.unknown)} |`,
  '',
  'Priors, the range of effects and the spread of "nothing known" are common practice, no source.',
  '',
  'The likelihood of a cause is the density of Student’s t, in as many dimensions as there are reported numbers, around',
  'its prediction. The scale is the covariance over rehearsals, in which the apparatus is drawn within its uncertainties',
  'and the instruments have their noise, plus the rounding of the written digits and the uncertainty that the reporter',
  'states. The scatter of pairs and of larger effects is taken to be as large, relative to the result, as where nothing is',
  'wrong. The *share* is prior times likelihood over the sum of all: how much of all that is considered speaks for a',
  'cause. It says nothing of causes that are not considered.',
  '',
  'With the readings at hand (`--data`) a slip of the reckoning is applied to those readings, so that only 0.2 % and the',
  'rounding are left open; the readings themselves are held against what is expected of them.',
  '',
  'A slip that moves no result by more than its scatter is not considered: it cannot be told from no slip. A general slip',
  'that gives the same as a slip of the lab is left to the lab.',
  '',
  '## How often it is right',
  '',
  `${REPORTS} reports for each cause, each from another apparatus drawn within the uncertainties, rounded to three digits; predictions`,
  `from ${REHEARSALS} rehearsals with other seeds. *First*: the planted cause is ranked first. *Among three*: it is among the first`,
  'three. *Instead*: what was ranked first most often where the planted cause was not.',
  '',
];

const totals = { planted: 0, first: 0, amongThree: 0 };
for (const name of labs) {
  const text = readFileSync(new URL(`../labs/${name}/lab.yaml`, import.meta.url), 'utf8');
  const lab = valueFrom(readLab(text, 'lab.yaml'));
  const marker = valueFrom(prepareMarker(createPipeline(lab), [], { rehearsals: REHEARSALS }));
  const planted = valueFrom(calibrateMarker(marker, { reports: REPORTS }));
  const results = lab.results.map((result) => `\`${result.name}\``).join(' and ');
  lines.push(
    `### ${name}`,
    '',
    `Reported: ${results}. ${lab.slips.length} slips of the lab and ${generalSlips(lab).length} of the general set were tried; those below move a result by more than its scatter.`,
    '',
    '| planted | reports | first | among three | instead |',
    '| --- | --- | --- | --- | --- |',
  );
  for (const one of planted) {
    lines.push(
      `| ${one.name} | ${one.planted} | ${percent(one.first / one.planted)} | ${percent(one.amongThree / one.planted)} | ${one.mostOften} |`,
    );
    totals.planted += one.planted;
    totals.first += one.first;
    totals.amongThree += one.amongThree;
  }
  lines.push('');
}
lines.push(
  '### Together',
  '',
  `Of ${totals.planted} reports the planted cause was ranked first in ${percent(totals.first / totals.planted)} and among the first three in ${percent(totals.amongThree / totals.planted)}. Where it was not first, the two causes give nearly the same numbers: with the readings at hand they are told apart.`,
);

writeFileSync(page, `${lines.join('\n').trimEnd()}\n`);

function valueFrom(outcome) {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map(({ message }) => message).join('\n'));
}
