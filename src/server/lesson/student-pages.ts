import type { StationOfGroup } from '../../classroom/index.ts';
import type { Problem } from '../../problem/index.ts';
import type { GroupWork, Lesson } from './lesson.ts';
import { answerPage, type ExtraHeaders, type Html, markup, nothing } from './page.ts';
import { tellNumber, tellValues, unitText } from './tell-number.ts';

/** The page on which a group comes in. */
export function joinPage(
  { lab, language, words: { join: words } }: Lesson,
  free: readonly StationOfGroup[],
  problem: string | null,
  status = 200,
  headers: ExtraHeaders = {},
): Response {
  const body = markup`<main><h1>${lab.title}</h1>
${problem === null ? nothing : markup`<p class="problem" role="alert">${problem}</p>`}
<form method="post" action="/join">
<label>${words.code} <input name="code" required maxlength="20" autocomplete="off" autocapitalize="characters" spellcheck="false"></label>
<label>${words.group} <input name="group" required maxlength="40" autocomplete="off"></label>
<label>${words.station} <select name="station">${free.map(({ name }) => markup`<option>${name}</option>`)}</select></label>
<button>${words.button}</button>
</form>
<p>${words.about}</p></main>`;
  return answerPage(language, lab.title, body, status, headers);
}

/** What a group sees: its values, its entries, and whether they are plausible. */
export function stationPage(
  { lab, language, words: { station: words, standing, decimalMark }, stations }: Lesson,
  { group, entries }: GroupWork,
  problems: readonly Problem[] = [],
  status = 200,
  headers: ExtraHeaders = {},
): Response {
  const station = stations.find(({ name }) => name === group.station);
  const values = station === undefined ? [] : tellValues(station);
  const body = markup`<main><h1>${lab.title}</h1>
<p><strong>${words.who(group.name, group.station)}</strong></p>
${problems.map(tellProblem)}
${
  values.length === 0
    ? markup`<p>${words.asHandout}</p>`
    : markup`<h2>${words.values}</h2><table>${values.map(({ what, value }) => markup`<tr><th scope="row">${what}</th><td>${value}</td></tr>`)}</table>`
}
<h2>${words.enter}</h2>
<form method="post" action="/results">
${lab.results.map((result) => {
  const unit = unitText(result.unit);
  const name = result.is === '' ? result.name : `${result.is} (${result.name})`;
  return markup`<label>${unit === '' ? name : words.inUnit(name, unit)} <input name="result ${result.name}" maxlength="40" autocomplete="off" inputmode="text"></label>`;
})}
<button>${words.enterButton}</button>
</form>
<h2>${words.send}</h2>
<form method="post" action="/readings" enctype="multipart/form-data">
<label>${words.file} <input type="file" name="file" required></label>
<button>${words.sendButton}</button>
</form>
<h2>${words.entered}</h2>
${
  entries.length === 0
    ? markup`<p>${words.nothing}</p>`
    : markup`<div class="scroll" tabindex="0" role="region" aria-label="${words.entered}"><table><thead><tr><th scope="col">${words.result}</th><th scope="col">${words.value}</th><th scope="col">${words.looks}</th></tr></thead><tbody>${[
        ...entries,
      ]
        .reverse()
        .flatMap(({ judged, file }) =>
          judged.map((number) => {
            const result = lab.results.find(({ name }) => name === number.result);
            const text = result === undefined ? number.written : tellNumber(number, result, decimalMark);
            return markup`<tr><th scope="row">${number.result}</th><td>${text}${file === null ? '' : words.from(file.name)}</td><td>${standing[number.standing]}</td></tr>`;
          }),
        )}</tbody></table></div><p>${words.kept}</p>`
}</main>`;
  return answerPage(language, lab.title, body, status, headers);
}

function tellProblem({ message, tryThis }: Problem): Html {
  return markup`<p class="problem" role="alert">${message} ${tryThis ?? ''}</p>`;
}
