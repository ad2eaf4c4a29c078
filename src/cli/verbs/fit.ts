import { type Command, InvalidArgumentError } from 'commander';
import { readTrial } from '../../lab/trial/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { succeed } from '../../problem/index.ts';
import { fitTable, type TableFitRequest } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { readAnyFile } from '../files/any-file.ts';
import { tableFitToJson } from '../json/table-fit-json.ts';
import { wholeNumber } from '../options.ts';
import { printTableFit } from '../print/table-fit-text.ts';
import type { Report, Verb } from '../verb.ts';

export const fitVerb: Verb = {
  name: 'fit',
  what: 'Fit any expression to the columns of any table, with honest uncertainties.',
  example: 'benchwright fit readings.csv --of "y = b1*(1 - exp(-b2*x))" --start b1=500,b2=1e-4',
  declare(command: Command): void {
    command
      .argument('<FILE>', 'table: delimited text, .xlsx or .ods')
      .requiredOption('--of <EQUATION>', 'what is fitted; symbols that are no columns are the parameters')
      .option(
        '--start <NAME=VALUE,…>',
        'where the search starts; not needed where the expression is linear',
        readNumbers,
        new Map(),
      )
      .option('--u-x <COLUMN|NUMBER>', 'standard uncertainty of x: then both variables carry errors')
      .option('--u-y <COLUMN|NUMBER>', 'standard uncertainty of y')
      .option('--weights <COLUMN>', 'weights, 1/u² up to a common factor; the scatter tells the uncertainty')
      .option('--bounds <NAME=LOW..HIGH,…>', 'limits of parameters', readBounds, new Map())
      .option(
        '--loss <KIND>',
        'squares, or huber or cauchy where strays should count less',
        readLoss,
        'squares',
      )
      .option('--run <N>', 'which run, where several stand side by side', wholeNumber('--run', 1, 10_000))
      .option('--plot', 'draw readings and fit in characters', false);
  },
  async run(desk: Desk, [file = ''], options): Promise<Outcome<Report>> {
    const bytes = await readAnyFile(file, desk.environment.folder);
    if (!bytes.ok) return bytes;
    const { signal } = desk.environment;
    const table = await readTrial(bytes.value, { file, signal });
    if (!table.ok) return table;
    const fitted = fitTable(table.value, requestOf(options, signal), file);
    if (!fitted.ok) return fitted;
    return succeed({
      json: tableFitToJson(file, table.value, fitted.value),
      print: (page) => printTableFit(page, file, String(options.of), fitted.value, options.plot === true),
      notes: [...table.value.notes, ...fitted.warnings],
    });
  },
};

function requestOf(
  options: Readonly<Record<string, unknown>>,
  signal: { readonly aborted: boolean },
): TableFitRequest {
  const text = (key: string) => (typeof options[key] === 'string' ? options[key] : undefined);
  const start = options.start instanceof Map ? options.start : new Map();
  const bounds = options.bounds instanceof Map ? options.bounds : new Map();
  const ux = text('uX');
  const uy = text('uY');
  const weights = text('weights');
  return {
    of: String(options.of),
    start,
    signal,
    ...(ux === undefined ? {} : { ux }),
    ...(uy === undefined ? {} : { uy }),
    ...(weights === undefined ? {} : { weights }),
    ...(bounds.size === 0 ? {} : { bounds }),
    ...(options.loss === 'huber' || options.loss === 'cauchy' ? { loss: options.loss } : {}),
    ...(typeof options.run === 'number' ? { run: options.run } : {}),
  };
}

/** 'b1=500,b2=1e-4'; repeated options add to one another. */
function readNumbers(written: string, before: unknown): ReadonlyMap<string, number> {
  const numbers = new Map<string, number>(before instanceof Map ? before : []);
  for (const part of written.split(',')) {
    const [name = '', value = ''] = part.split('=').map((side) => side.trim());
    const number = value === '' ? Number.NaN : Number(value);
    if (name === '' || !Number.isFinite(number)) {
      throw new InvalidArgumentError(
        `--start takes names with numbers, such as b1=500,b2=1e-4; found "${part.trim()}".`,
      );
    }
    numbers.set(name, number);
  }
  return numbers;
}

/** 'b1=0..10,b2=..5': an end that is left out is open. */
function readBounds(written: string, before: unknown): ReadonlyMap<string, readonly [number, number]> {
  const bounds = new Map<string, readonly [number, number]>(before instanceof Map ? before : []);
  for (const part of written.split(',')) {
    const [name = '', range = ''] = part.split('=').map((side) => side.trim());
    const [low = '', high = '', ...more] = range.split('..').map((end) => end.trim());
    const lowest = low === '' ? Number.NEGATIVE_INFINITY : Number(low);
    const highest = high === '' ? Number.POSITIVE_INFINITY : Number(high);
    if (name === '' || !range.includes('..') || more.length > 0 || !(lowest < highest)) {
      throw new InvalidArgumentError(
        `--bounds takes names with ranges, such as b1=0..10,b2=..5; found "${part.trim()}".`,
      );
    }
    bounds.set(name, [lowest, highest]);
  }
  return bounds;
}

function readLoss(written: string): string {
  if (['squares', 'huber', 'cauchy'].includes(written)) return written;
  throw new InvalidArgumentError(`--loss is squares, huber or cauchy; found "${written}".`);
}
