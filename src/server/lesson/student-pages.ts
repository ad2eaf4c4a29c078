import type { StationOfGroup } from '../../classroom/index.ts';
import type { Problem } from '../../problem/index.ts';
import type { GroupWork, Lesson } from './lesson.ts';
import { answerPage, type ExtraHeaders, type Html, markup, nothing } from './page.ts';
import { standingWords, tellNumber, tellValues, unitText } from './tell-number.ts';

/** The page on which a group comes in. */
export function joinPage(
  { lab }: Lesson,
  free: readonly StationOfGroup[],
  problem: string | null,
  status = 200,
  headers: ExtraHeaders = {},
): Response {
  const body = markup`<h1>${lab.title}</h1>
${problem === null ? nothing : markup`<p class="problem" role="alert">${problem}</p>`}
<form method="post" action="/join">
<label>Code of the lesson <input name="code" required maxlength="20" autocomplete="off" autocapitalize="characters" spellcheck="false"></label>
<label>Name of your group <input name="group" required maxlength="40" autocomplete="off"></label>
<label>Your station <select name="station">${free.map(({ name }) => markup`<option>${name}</option>`)}</select></label>
<button>Come in</button>
</form>
<p>Choose a name for the group that is nobody's own name. A group that is in already keeps its station.</p>`;
  return answerPage(lab.title, body, status, headers);
}

/** What a group sees: its values, its entries, and whether they are plausible. */
export function stationPage(
  { lab, stations }: Lesson,
  { group, entries }: GroupWork,
  problems: readonly Problem[] = [],
  status = 200,
  headers: ExtraHeaders = {},
): Response {
  const station = stations.find(({ name }) => name === group.station);
  const values = station === undefined ? [] : tellValues(station);
  const body = markup`<h1>${lab.title}</h1>
<p>Group <strong>${group.name}</strong>, station <strong>${group.station}</strong></p>
${problems.map(tellProblem)}
${
  values.length === 0
    ? markup`<p>Your station has the values of the handout.</p>`
    : markup`<h2>Values of your station</h2><table>${values.map(({ what, value }) => markup`<tr><th scope="row">${what}</th><td>${value}</td></tr>`)}</table>`
}
<h2>Enter results</h2>
<form method="post" action="/results">
${lab.results.map((result) => {
  const unit = unitText(result.unit);
  return markup`<label>${result.is === '' ? result.name : `${result.is} (${result.name})`}${unit === '' ? '' : `, in ${unit}`} <input name="result ${result.name}" maxlength="40" autocomplete="off" inputmode="text"></label>`;
})}
<button>Enter</button>
</form>
<h2>Or send readings</h2>
<form method="post" action="/readings" enctype="multipart/form-data">
<label>File of your readings (.csv, .txt, .xlsx, .ods; at most 2 MB) <input type="file" name="file" required></label>
<button>Send</button>
</form>
<h2>What you entered</h2>
${
  entries.length === 0
    ? markup`<p>Nothing yet.</p>`
    : markup`<div class="scroll"><table><thead><tr><th scope="col">result</th><th scope="col">entered</th><th scope="col">how it looks</th></tr></thead><tbody>${[
        ...entries,
      ]
        .reverse()
        .flatMap(({ judged, file }) =>
          judged.map((number) => {
            const result = lab.results.find(({ name }) => name === number.result);
            const text = result === undefined ? number.written : tellNumber(number, result);
            return markup`<tr><th scope="row">${number.result}</th><td>${text}${file === null ? '' : ` from ${file.name}`}</td><td>${standingWords[number.standing]}</td></tr>`;
          }),
        )}</tbody></table></div><p>Everything in this list is kept. The last number of each result counts.</p>`
}`;
  return answerPage(lab.title, body, status, headers);
}

function tellProblem({ message, tryThis }: Problem): Html {
  return markup`<p class="problem" role="alert">${message} ${tryThis ?? ''}</p>`;
}
