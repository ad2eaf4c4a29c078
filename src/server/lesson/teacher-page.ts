import { figureToSvg, fitFigure, sizes } from '../../figure/index.ts';
import { formatMeasured, fromSI } from '../../quantity/index.ts';
import type { GroupWork, Lesson } from './lesson.ts';
import { type Html, markup, nothing, trusted } from './page.ts';
import { tellNumber } from './tell-number.ts';

/** Loads the part of the page that changes, again and again; without it the page is loaded by hand. */
export const LIVE_SCRIPT = `const part = document.getElementById('live');
const look = async () => {
  try {
    const answer = await fetch('/live');
    const text = await answer.text();
    // A button under a finger is not taken away.
    if (answer.ok && !part.contains(document.activeElement) && text !== part.dataset.text) {
      part.innerHTML = text;
      part.dataset.text = text;
    }
  } catch {}
  setTimeout(look, 2000);
};
look();
`;

/** The teacher's page: code and address to be read out, what changes, and the end of the lesson. */
export function teacherBody(
  lesson: Lesson,
  work: readonly GroupWork[],
  {
    address,
    code,
    problem,
  }: { readonly address: string; readonly code: string; readonly problem: string | null },
): Html {
  const { teacher: words } = lesson.words;
  return markup`<main><h1>${words.title(lesson.lab.title)}</h1>
${problem === null ? nothing : markup`<p class="problem" role="alert">${problem}</p>`}
<p>${words.open} <strong>${address}</strong> ${words.andCode}</p>
<p class="code">${code}</p>
<section id="live">${liveBody(lesson, work)}</section>
<h2>${words.end}</h2>
<p><a href="/entries.csv" download>${words.take}</a></p>
<form method="post" action="/delete-all">
<label>${words.deleteAll} <input name="code" required maxlength="20" autocomplete="off"></label>
<button>${words.deleteButton}</button>
</form>
</main><script src="/live.js" defer></script>`;
}

/** What changes while groups enter: the class result with its figure, and all entries. */
export function liveBody(lesson: Lesson, work: readonly GroupWork[]): Html {
  const { teacher: words } = lesson.words;
  return markup`${pooledPart(lesson, work)}
<h2>${words.groups}</h2>
${
  work.length === 0
    ? markup`<p>${words.noGroup}</p>`
    : markup`<div class="scroll" tabindex="0" role="region" aria-label="${words.groups}"><table>
<thead><tr><th scope="col">${words.group}</th><th scope="col">${words.station}</th><th scope="col">${words.entries}</th><th scope="col">${words.counts}</th></tr></thead>
<tbody>${work.map((one) => groupRow(lesson, one))}</tbody></table></div>`
}`;
}

function groupRow({ lab, words }: Lesson, { group, entries }: GroupWork): Html {
  const { teacher, shortly, decimalMark } = words;
  const list = [...entries].reverse().map(({ id, judged, file }) => {
    const numbers = judged.map((number) => {
      const result = lab.results.find(({ name }) => name === number.result);
      const text = result === undefined ? number.written : tellNumber(number, result, decimalMark);
      return `${number.result} = ${text} (${shortly[number.standing]})`;
    });
    const readings =
      file === null ? nothing : markup`${teacher.from}<a href="/readings/${id}" download>${file.name}</a>`;
    return markup`<div>${numbers.join(', ')}${readings} <form class="inline" method="post" action="/entries/${id}/delete"><button class="plain">${teacher.remove}<span class="heard">${teacher.ofEntry(numbers.join(', '))}</span></button></form></div>`;
  });
  return markup`<tr><th scope="row">${group.name}</th><td>${group.station}</td><td>${list}</td><td><form method="post" action="/groups/${group.id}/${group.aside ? 'count' : 'set-aside'}"><button class="plain">${group.aside ? teacher.countAgain : teacher.leaveOut}<span class="heard">${teacher.ofGroup(group.name)}</span></button></form></td></tr>`;
}

function pooledPart(lesson: Lesson, work: readonly GroupWork[]): Html {
  const found = lesson.pool(work);
  if (found === null) return nothing;
  const { teacher: words, decimalMark } = lesson.words;
  const heading = markup`<h2>${words.together}</h2>`;
  if (!found.pooled.ok)
    return markup`${heading}<p>${words.notEnough(found.groups, lesson.stations.length)}</p>`;
  const { results, fits } = found.pooled.value;
  const pooling = lesson.lab.stations.pooled;
  const lines = (pooling?.results ?? []).map(({ name, is, unit }, index) => {
    const { value = Number.NaN, standardUncertainty = Number.NaN } = results[index] ?? {};
    const own = fromSI(standardUncertainty, unit, 'interval');
    const text = formatMeasured({
      value: fromSI(value, unit, 'point'),
      standardUncertainty: Number.isFinite(own) ? own : 0,
      unit,
      notation: 'plus-minus',
      decimalMark,
    });
    return markup`<p>${is} (${name}): <strong>${text}</strong>, ${words.fromGroups(found.groups)}</p>`;
  });
  const figures = fits.map((fit, index) =>
    trusted(
      figureToSvg(fitFigure(fit, { language: lesson.language, decimalMark }), {
        size: sizes.screen,
        idPrefix: `pooled-${index}-`,
      }),
    ),
  );
  return markup`${heading}${lines}${figures}`;
}
