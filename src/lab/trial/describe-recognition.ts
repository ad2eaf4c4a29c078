import type { Delimiter, Recognition } from './trial-table.ts';

const delimiterWords: Readonly<Record<Delimiter, string>> = {
  ',': 'commas between the columns',
  ';': 'semicolons between the columns',
  '\t': 'tabs between the columns',
  '|': 'vertical bars between the columns',
  space: 'blanks between the columns',
  none: 'one column',
};

/** Says in plain sentences what the reader took for what, for people to check. */
export function describeRecognition(recognition: Recognition): string[] {
  return [
    howWritten(recognition),
    ...whereStands(recognition),
    ...whichRuns(recognition),
    ...whatLeftOut(recognition),
    ...stampSentences(recognition),
    ...(recognition.told.length > 0
      ? [`Told by the lab file, not detected: ${recognition.told.join(', ')}.`]
      : []),
  ];
}

function howWritten(recognition: Recognition): string {
  const { encoding, byteOrderMark, delimiter, decimalMark, thousandsMark, sheet, otherSheets } = recognition;
  const mark = decimalMark === ',' ? 'a decimal comma' : 'a decimal point';
  if (sheet !== null) {
    const others =
      otherSheets.length === 0 ? '' : ` (not read: ${otherSheets.map((name) => `"${name}"`).join(', ')})`;
    return `Read from sheet "${sheet}" of an .${recognition.container} file${others}.`;
  }
  const bom = byteOrderMark ? ' (with byte-order mark)' : '';
  const between = delimiter === null ? '' : ` with ${delimiterWords[delimiter]} and ${mark}`;
  const grouped = thousandsMark === null ? '' : `, thousands grouped by ${nameOfMark(thousandsMark)}`;
  return `Read as ${nameOfEncoding(encoding ?? '')}${bom}${between}${grouped}.`;
}

function nameOfEncoding(label: string): string {
  return label.startsWith('utf') ? label.toUpperCase() : label;
}

function nameOfMark(mark: string): string {
  const names = new Map([
    [',', 'commas'],
    ['.', 'points'],
    ["'", 'apostrophes'],
    ['\u2019', 'apostrophes'],
  ]);
  return names.get(mark) ?? 'spaces';
}

function whereStands(recognition: Recognition): string[] {
  const { preambleLines, headingLines, unitLine, labelLine, firstLine } = recognition;
  const place = recognition.sheet === null ? 'line' : 'row';
  const parts: string[] = [];
  if (preambleLines > 0)
    parts.push(`${several(preambleLines, `${place} of preamble`, `${place}s of preamble`)} skipped`);
  if (headingLines.length === 0) parts.push('no heading');
  else parts.push(`heading in ${place}${headingLines.length > 1 ? 's' : ''} ${listed(headingLines)}`);
  if (labelLine !== null) parts.push(`labels of the runs in ${place} ${labelLine}`);
  if (unitLine !== null) parts.push(`units in ${place} ${unitLine}`);
  parts.push(`readings from ${place} ${firstLine}`);
  return [`${capital(parts.join('; '))}.`];
}

function whichRuns(recognition: Recognition): string[] {
  const { runs, runsSideBySide, runsSideBySideBy, runsStacked } = recognition;
  if (runs === 1) return [];
  const ways = [
    ...(runsSideBySideBy === null
      ? []
      : [`${runsSideBySide} side by side, told apart by ${waysWords[runsSideBySideBy]}`]),
    ...(runsStacked > 1 ? [`${runsStacked} one below another`] : []),
  ];
  return [`${runs} runs: ${ways.join('; ')}.`];
}

const waysWords: Readonly<Record<NonNullable<Recognition['runsSideBySideBy']>, string>> = {
  'label in the heading': 'a label in each heading',
  'row of labels': 'a row of labels above the headings',
  'repeated headings': 'the same headings again',
  'numbered headings': 'numbers behind the headings',
};

function whatLeftOut(recognition: Recognition): string[] {
  const { textColumns, blankColumns, clockColumns, blankLines, commentLines, remarkLines, raggedLines } =
    recognition;
  const sentences: string[] = [];
  const kept: string[] = [];
  const words = [...new Set(textColumns.map((column) => `"${column.heading}"`))];
  if (words.length > 0)
    kept.push(
      `${several(words.length, 'column of words', 'columns of words')} (${words.slice(0, 8).join(', ')})`,
    );
  if (blankColumns > 0) kept.push(several(blankColumns, 'blank column', 'blank columns'));
  if (blankLines > 0) kept.push(several(blankLines, 'blank line', 'blank lines'));
  if (commentLines > 0) kept.push(several(commentLines, 'comment line', 'comment lines'));
  if (remarkLines > 0) kept.push(several(remarkLines, 'remark', 'remarks'));
  if (kept.length > 0) sentences.push(`Left out: ${kept.join(', ')}.`);
  if (clockColumns.length > 0) {
    sentences.push(
      `Clock times read as seconds: ${clockColumns.map((heading) => `"${heading}"`).join(', ')}.`,
    );
  }
  const { cellUnitColumns } = recognition;
  if (cellUnitColumns.length > 0) {
    sentences.push(
      `Units stand in the cells of ${cellUnitColumns.map((heading) => `"${heading}"`).join(', ')}.`,
    );
  }
  if (raggedLines > 0)
    sentences.push(`${several(raggedLines, 'line has', 'lines have')} more or fewer cells than the table.`);
  const { blankCells, overloadCells } = recognition;
  if (blankCells > 0)
    sentences.push(
      `${several(blankCells, 'cell is blank or marked as missing', 'cells are blank or marked as missing')}.`,
    );
  if (overloadCells > 0)
    sentences.push(
      `${several(overloadCells, 'cell is marked as over range', 'cells are marked as over range')}.`,
    );
  return sentences;
}

function stampSentences(recognition: Recognition): string[] {
  return recognition.stamps.slice(0, 12).flatMap(({ heading, run, interval, repeated, backward, gaps }) => {
    const column = recognition.runs > 1 ? `"${heading}" of run ${run}` : `"${heading}"`;
    const odd = [
      ...(repeated > 0 ? [several(repeated, 'repeated stamp', 'repeated stamps')] : []),
      ...(backward > 0 ? [several(backward, 'step backward', 'steps backward')] : []),
      ...(gaps > 0 ? [several(gaps, 'gap', 'gaps')] : []),
    ];
    const step = interval === null ? '' : ` every ${Number(interval.toPrecision(6))}`;
    return odd.length === 0 && interval === null
      ? []
      : [`Time stamps in ${column}${step}${odd.length === 0 ? '' : `: ${odd.join(', ')}`}.`];
  });
}

function several(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function listed(lines: readonly number[]): string {
  return lines.length < 2 ? lines.join('') : `${lines.slice(0, -1).join(', ')} and ${lines.at(-1)}`;
}
