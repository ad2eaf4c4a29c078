import { figureToSvg, fitFigure, sizes } from '../../figure/index.ts';
import { formatMeasured, fromSI } from '../../quantity/index.ts';
import type { GroupWork, Lesson, Standing } from './lesson.ts';
import { type Html, markup, nothing, trusted } from './page.ts';
import { tellNumber } from './tell-number.ts';

const words: Readonly<Record<Standing, string>> = {
  inside: 'plausible',
  near: 'nearly',
  far: 'not plausible',
  unknown: 'not judged',
};

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
  return markup`<h1>${lesson.lab.title}: the lesson</h1>
${problem === null ? nothing : markup`<p class="problem" role="alert">${problem}</p>`}
<p>Students open <strong>${address}</strong> and enter the code</p>
<p class="code">${code}</p>
<section id="live">${liveBody(lesson, work)}</section>
<h2>End of the lesson</h2>
<p><a href="/entries.csv" download>Take the entries with you (CSV)</a></p>
<form method="post" action="/delete-all">
<label>Delete all groups, entries and readings for good. Type the code of the lesson <input name="code" required maxlength="20" autocomplete="off"></label>
<button>Delete everything</button>
</form>
<script src="/live.js" defer></script>`;
}

/** What changes while groups enter: the class result with its figure, and all entries. */
export function liveBody(lesson: Lesson, work: readonly GroupWork[]): Html {
  return markup`${pooledPart(lesson, work)}
<h2>Groups</h2>
${
  work.length === 0
    ? markup`<p>No group is in yet.</p>`
    : markup`<div class="scroll"><table>
<thead><tr><th scope="col">group</th><th scope="col">station</th><th scope="col">entries</th><th scope="col"></th></tr></thead>
<tbody>${work.map((one) => groupRow(lesson, one))}</tbody></table></div>`
}`;
}

function groupRow({ lab }: Lesson, { group, entries }: GroupWork): Html {
  const list = [...entries].reverse().map(({ id, judged, file }) => {
    const numbers = judged.map((number) => {
      const result = lab.results.find(({ name }) => name === number.result);
      const text = result === undefined ? number.written : tellNumber(number, result);
      return `${number.result} = ${text} (${words[number.standing]})`;
    });
    const readings =
      file === null ? nothing : markup` from <a href="/readings/${id}" download>${file.name}</a>`;
    return markup`<div>${numbers.join(', ')}${readings} <form class="inline" method="post" action="/entries/${id}/delete"><button class="plain">Delete</button></form></div>`;
  });
  return markup`<tr><th scope="row">${group.name}</th><td>${group.station}</td><td>${list}</td><td><form method="post" action="/groups/${group.id}/${group.aside ? 'count' : 'set-aside'}"><button class="plain">${group.aside ? 'Count again' : 'Leave out'}</button></form></td></tr>`;
}

function pooledPart(lesson: Lesson, work: readonly GroupWork[]): Html {
  const found = lesson.pool(work);
  if (found === null) return nothing;
  const heading = markup`<h2>What the class finds together</h2>`;
  if (!found.pooled.ok)
    return markup`${heading}<p>${found.groups} of ${lesson.stations.length} stations have entered what is pooled; that is not enough yet.</p>`;
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
      decimalMark: '.',
    });
    return markup`<p>${is} (${name}): <strong>${text}</strong>, from ${found.groups} groups</p>`;
  });
  const figures = fits.map((fit, index) =>
    trusted(
      figureToSvg(fitFigure(fit, { language: 'en', decimalMark: '.' }), {
        size: sizes.screen,
        idPrefix: `pooled-${index}-`,
      }),
    ),
  );
  return markup`${heading}${lines}${figures}`;
}
