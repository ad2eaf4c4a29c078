import type { Lab } from '../lab/index.ts';
import { formatNumber } from '../quantity/index.ts';
import type { ListedReport } from './class-list.ts';
import { explainCause, nameCause } from './explain-cause.ts';
import { type MarkingLanguage, type MarkingPhrases, phrasesOf } from './language/index.ts';
import type { MarkedReport } from './mark-report.ts';

/** One line of a class list with what it was marked as; null where the line has problems. */
export interface MarkedLine {
  readonly report: ListedReport;
  readonly marked: MarkedReport | null;
}

/** Second causes below this share are not worth a teacher's time. */
const WORTH_TELLING = 0.05;

/** What a marked list says in each line. */
function cellsOf(lab: Lab, { report, marked }: MarkedLine, language: MarkingLanguage): readonly string[] {
  const phrases = phrasesOf(language);
  const [first, second] = marked?.causes ?? [];
  const says =
    first === undefined || marked === null
      ? report.problems.map(({ message, tryThis }) => [message, tryThis].filter(Boolean).join(' ')).join(' ')
      : explainCause(first, marked, language);
  return [
    report.group,
    report.station,
    ...lab.results.map(({ name }) => report.written.get(name) ?? ''),
    first === undefined ? phrases.list.notRead : nameCause(first.cause, language),
    first === undefined ? '' : percent(first.share),
    second === undefined || second.share < WORTH_TELLING
      ? ''
      : `${nameCause(second.cause, language)} (${percent(second.share)})`,
    says,
  ];
}

function headings(lab: Lab, { list }: MarkingPhrases): readonly string[] {
  return [
    list.group,
    list.station,
    ...lab.results.map(({ name, unit }) => (['', '1'].includes(unit.text) ? name : `${name} (${unit.text})`)),
    list.looksLike,
    list.share,
    list.orElse,
    list.whatToSay,
  ];
}

function percent(share: number): string {
  return `${formatNumber(100 * share, { decimals: 0 })} %`;
}

/**
 * The marked list as CSV (RFC 4180). A cell that a spreadsheet would take for a formula is written as text, with an
 * apostrophe before it; numbers stay numbers.
 */
export function classListCsv(
  lab: Lab,
  lines: readonly MarkedLine[],
  language: MarkingLanguage = 'en',
): string {
  const rows = [headings(lab, phrasesOf(language)), ...lines.map((line) => cellsOf(lab, line, language))];
  return `${rows.map((row) => row.map(csvCell).join(',')).join('\r\n')}\r\n`;
}

/** Signs with which spreadsheets begin a formula; control characters hide them from people and not from programs. */
const BEGINS_FORMULA = /^[\s\p{Cc}]*[=+\-−@\uFF1D\uFF0B\uFF0D\uFF20]/u;
const IS_NUMBER = /^\s*[+\-−]?\d+([.,]\d+)?([eE][+-]?\d+)?\s*$/;

/** One cell of a CSV file: text that cannot be run. */
export function csvCell(text: string): string {
  const tame = text.replace(/[\p{Cc}\u2028\u2029]+/gu, ' ');
  const safe = BEGINS_FORMULA.test(text) && !IS_NUMBER.test(tame) ? `'${tame}` : tame;
  return /[",;\r\n]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** The marked list as a page that stands alone: no script, no other file, legible on paper. */
export function classListPage(
  lab: Lab,
  lines: readonly MarkedLine[],
  language: MarkingLanguage = 'en',
): string {
  const phrases = phrasesOf(language);
  const head = headings(lab, phrases).map((text) => `<th scope="col">${toHtml(text)}</th>`);
  const body = lines.map((line) => {
    const kind = line.marked?.causes[0]?.cause.kind ?? 'unread';
    const cells = cellsOf(lab, line, language).map((text, index) =>
      index === 0 ? `<th scope="row">${toHtml(text)}</th>` : `<td>${toHtml(text)}</td>`,
    );
    return `<tr class="${kind}">${cells.join('')}</tr>`;
  });
  return `<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${toHtml(phrases.list.title(lab.title))}</title>
<style>
body { font: 1rem/1.45 system-ui, sans-serif; margin: 2rem auto; max-width: 70rem; padding: 0 1rem; color: #1a1a1a; background: #fff; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 0.4rem 0.6rem; border-bottom: 1px solid #767676; }
thead th { border-bottom: 2px solid #1a1a1a; }
tr.correct td, tr.correct th { color: #595959; }
tr.slip, tr.pair { font-weight: 600; }
tr { break-inside: avoid; }
</style>
</head>
<body>
<h1>${toHtml(lab.title)}</h1>
<p>${toHtml(phrases.list.about)}</p>
<table>
<thead><tr>${head.join('')}</tr></thead>
<tbody>
${body.join('\n')}
</tbody>
</table>
</body>
</html>
`;
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

function toHtml(text: string): string {
  return text.replace(/[\p{Cc}]+/gu, ' ').replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? sign);
}
