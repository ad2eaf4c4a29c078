import { type WriteSheet, writeXlsx } from 'hucre';
import type { LabDocumentTree } from '../document/index.ts';
import { runStepwise } from '../stepwise/index.ts';
import { cleanText, originLines, type WriterExtras } from '../writing/index.ts';
import { dataSheet, lineSheet } from './data-sheets.ts';
import { address, createGrid, put, sheetTitle, toSheet } from './grid.ts';
import { fillInputSheet, type NamedCell } from './input-sheet.ts';
import { fillModelSheet, MOST_ROWS } from './model-sheet.ts';
import { evenBytes } from './same-bytes.ts';
import { sheetNames } from './sheet-names.ts';
import { type SheetWords, sheetWordsOf } from './sheet-words.ts';

/** Whether cells hold, beside their formulas, what these give today: for programs that only show. */
export interface SpreadsheetOptions {
  readonly results?: boolean;
}

/**
 * A workbook that lives: inputs with names, the model step by step in formulas, trial data, the line by formulas.
 *
 * Same tree and extras, same bytes. Text of authors is always text, also where it begins like a formula.
 */
export async function writeSpreadsheet(
  tree: LabDocumentTree,
  extras: WriterExtras,
  options: SpreadsheetOptions = {},
): Promise<Uint8Array> {
  const words = sheetWordsOf(tree.settings.language);
  const taken = new Set<string>();
  const { sheets, names } = modelSheets(tree, extras, taken, words);
  for (const line of extras.lines) sheets.push(lineSheet(line, taken, words));
  for (const trial of extras.trials) sheets.push(dataSheet(trial, taken));
  sheets.push(aboutSheet(tree, taken, words));
  const { provenance } = tree;
  const paperSize = tree.settings.paper;
  const bytes = await writeXlsx({
    sheets: sheets.map((sheet) => ({
      ...(options.results === false ? withoutResults(sheet) : sheet),
      pageSetup: {
        ...sheet.pageSetup,
        paperSize,
        orientation: 'landscape',
        fitToPage: true,
        fitToWidth: 1,
        fitToHeight: 0,
      },
    })),
    namedRanges: [...names],
    defaultFont: { name: 'Calibri', size: 11 },
    properties: {
      title: cleanText(tree.title),
      subject: cleanText(tree.subtitle),
      creator: provenance.madeBy,
      lastModifiedBy: provenance.madeBy,
      keywords: `digest:${provenance.digest}`,
      created: new Date(0),
      modified: new Date(0),
      custom: Object.fromEntries([
        ['Benchwright digest', provenance.digest],
        ...provenance.sources.map(({ file, sha256 }, k) => [
          `Benchwright source ${k + 1}`,
          cleanText(`${file} ${sha256}`),
        ]),
      ]),
    },
  });
  return evenBytes(bytes);
}

function modelSheets(
  tree: LabDocumentTree,
  extras: WriterExtras,
  taken: Set<string>,
  words: SheetWords,
): { readonly sheets: WriteSheet[]; readonly names: readonly NamedCell[] } {
  const { stepwise } = extras;
  if (stepwise === null) return { sheets: [], names: [] };
  const inputTitle = sheetTitle(words.inputs, taken);
  const modelTitle = sheetTitle(words.model, taken);
  if (!stepwise.ok) return { sheets: [refusal(modelTitle, stepwise.problems, words)], names: [] };
  const model = stepwise.value;
  const names = sheetNames(
    [...model.inputs, ...model.computed].map(({ name }) => name),
    ['dt', 't_end', 't'],
  );
  const run = runStepwise(model, MOST_ROWS - 1);
  const motion = fillModelSheet(modelTitle, model, run, names, words);
  if (!motion.ok) return { sheets: [refusal(modelTitle, motion.problems, words)], names: [] };
  const inputs = fillInputSheet(inputTitle, tree.title, model, run, names, motion.value, words);
  return {
    sheets: [
      toSheet(inputs.grid, {
        charts: inputs.charts,
        columns: [{ width: 12 }, { width: 46 }, { width: 14 }, { width: 12 }, { width: 14 }, { width: 18 }],
        rowDefs: headRow(3),
      }),
      toSheet(motion.value.grid, {
        freezePane: { rows: 1, columns: 1 },
        columns: motion.value.layout.columns.map(() => ({ width: 15 })),
        rowDefs: headRow(0),
        // Rows behind the end are there for other values; today they say nothing, and are not printed.
        conditionalRules: [
          {
            type: 'expression',
            priority: 1,
            formula: `$${address(1, motion.value.layout.moving)}<>1`,
            style: { font: { color: { rgb: 'FFFFFF' } } },
            range: `A2:${address(motion.value.count, motion.value.layout.moving)}`,
          },
        ],
        pageSetup: {
          printTitlesRow: '$1:$1',
          printArea: `$A$1:${address(Math.min(run.rows.length, motion.value.count), motion.value.layout.moving, true)}`,
        },
      }),
    ],
    names: inputs.names,
  };
}

/** Heads of several words stand in two lines. */
function headRow(row: number): Map<number, { height: number }> {
  return new Map([[row, { height: 46 }]]);
}

function refusal(
  title: string,
  problems: readonly { readonly message: string }[],
  words: SheetWords,
): WriteSheet {
  const grid = createGrid(title);
  put(grid, 0, 0, words.noModel, 'title');
  for (const [row, { message }] of problems.entries()) put(grid, row + 1, 0, message);
  return toSheet(grid, { columns: [{ width: 100 }] });
}

function aboutSheet(tree: LabDocumentTree, taken: Set<string>, words: SheetWords): WriteSheet {
  const grid = createGrid(sheetTitle(words.about, taken));
  put(grid, 0, 0, tree.title, 'title');
  put(grid, 1, 0, tree.subtitle);
  for (const [row, line] of originLines(tree).entries()) put(grid, row + 3, 0, line, 'quiet');
  return toSheet(grid, { columns: [{ width: 110 }] });
}

/** The same sheet with formulas alone, so that a program has to work them out. */
function withoutResults(sheet: WriteSheet): WriteSheet {
  const cells = new Map(
    [...(sheet.cells ?? [])].map(([key, { formulaResult: _result, ...cell }]) => [key, cell] as const),
  );
  const rows = (sheet.rows ?? []).map((row, r) =>
    row.map((value, column) => (cells.get(`${r},${column}`)?.formula === undefined ? value : null)),
  );
  return { ...sheet, cells, rows };
}
