import { spawnSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { randomSource } from '../src/inference/index.ts';
import { works } from './peer-process.ts';

const rowCount = 1_000_000;
const rounds = Number(process.env.ROUNDS ?? 7);

/** One way to read the table: a program run anew each time, since a person reads a table once. */
interface Reader {
  readonly name: string;
  readonly command: string;
  readonly parts: readonly string[];
  /** Prints seconds of processor time, then the sum of the last column as a check. */
  readonly program: string;
}

/**
 * Reads a table of a million rows and three columns at the first call of a fresh process, in turns with others; prints
 * ratios of processor time, without the start of the process and without fetching the bytes from the disk.
 */
export async function main(folder: string): Promise<void> {
  const file = join(folder, 'table.csv');
  const sum = writeTable(file);
  const readers = findReaders(folder, file);
  const times = readers.map((): number[] => []);
  for (let round = 0; round < rounds; round++) {
    const order = readers.map((_, index) => index);
    if (round % 2 === 1) order.reverse();
    for (const index of order) {
      const { name, command, parts } = readers[index];
      const run = spawnSync(command, parts, { encoding: 'utf8', maxBuffer: 1 << 26 });
      const [seconds = Number.NaN, found = Number.NaN] = run.stdout.trim().split(' ').map(Number);
      if (!(Math.abs(found - sum) < 1e-6))
        throw new Error(`${name} read something else: ${run.stdout} ${run.stderr}`);
      times[index].push(seconds);
    }
  }
  const ours = times[0];
  console.log(
    `A table of ${rowCount} rows, 3 columns, at the first call of a fresh process; ${rounds} rounds in turns.\n`,
  );
  console.log('| reader | ratio to ours | processor time, ms |');
  console.log('| --- | --- | --- |');
  for (const [index, { name }] of readers.entries()) {
    const ratio = median(times[index].map((time, round) => time / ours[round]));
    console.log(`| ${name} | ${ratio.toFixed(1)} | ${(1000 * median(times[index])).toFixed(0)} |`);
  }
}

/** Writes the table; returns the sum of its last column. */
function writeTable(file: string): number {
  const random = randomSource(7);
  const lines = ['t,x,y'];
  let sum = 0;
  for (let i = 0; i < rowCount; i++) {
    const y = (10 * random.uniform() - 5).toFixed(8);
    lines.push(`${(i / 1000).toFixed(3)},${random.normal().toFixed(6)},${y}`);
    sum += Number(y);
  }
  writeFileSync(file, `${lines.join('\n')}\n`);
  return sum;
}

function findReaders(folder: string, file: string): readonly Reader[] {
  const require = createRequire(import.meta.url);
  const node = (name: string, load: string, body: string): Reader => {
    const path = join(folder, `${name.replaceAll(/\W+/g, '-')}.mjs`);
    const program = `import { readFileSync } from 'node:fs';
${load}
const bytes = readFileSync(${JSON.stringify(file)});
const before = process.cpuUsage();
${body}
const used = process.cpuUsage(before);
console.log((used.user + used.system) / 1e6, sum);
`;
    writeFileSync(path, program);
    return { name, command: process.execPath, parts: [path], program };
  };
  const dist = fileURLToPath(new URL('../../dist/index.mjs', import.meta.url));
  if (!existsSync(dist)) throw new Error(`Build the program first (npm run build): ${dist} is not there.`);
  const readers = [
    node(
      'ours, checks and notes included',
      `const { readTrial } = await import(${JSON.stringify(pathToFileURL(dist).href)});`,
      `const read = await readTrial(bytes, { file: 'table.csv' });
let sum = 0;
for (const value of read.value.columns[2].values) sum += value;`,
    ),
    node(
      'split and Number',
      '',
      `let sum = 0;
const columns = [[], [], []];
for (const line of bytes.toString('utf8').trim().split('\\n').slice(1)) {
  const cells = line.split(',');
  for (let i = 0; i < 3; i++) columns[i].push(Number(cells[i]));
}
for (const value of columns[2]) sum += value;`,
    ),
  ];
  try {
    const papaparse = pathToFileURL(require.resolve('papaparse')).href;
    const load = `const { default: papa } = await import(${JSON.stringify(papaparse)});`;
    const body = `const { data } = papa.parse(bytes.toString('utf8'), { header: false, dynamicTyping: true, skipEmptyLines: true });
let sum = 0;
for (let row = 1; row < data.length; row++) sum += data[row][2];`;
    readers.push(node('papaparse, dynamicTyping', load, body));
  } catch {
    console.log('papaparse is not installed and is left out.');
  }
  const python = ['/usr/bin/python3', 'python3'].find((name) => works(name, ['-c', 'import pandas']));
  const withNumpy = ['/usr/bin/python3', 'python3'].find((name) => works(name, ['-c', 'import numpy']));
  const peer = (name: string, command: string, imports: string, read: string): Reader => {
    const program = `${imports}
import io, time
data = open(${JSON.stringify(file)}, 'rb').read()
before = time.process_time()
${read}
print(time.process_time() - before, total)
`;
    return { name, command, parts: ['-c', program], program };
  };
  if (python === undefined)
    console.log('pandas is not installed and is left out (apt-get install python3-pandas).');
  else
    readers.push(
      peer(
        'pandas read_csv',
        python,
        'import pandas',
        "total = pandas.read_csv(io.BytesIO(data))['y'].to_numpy().tolist()\ntotal = sum(total)",
      ),
    );
  if (withNumpy === undefined) console.log('numpy is not installed and is left out.');
  else
    readers.push(
      peer(
        'numpy loadtxt',
        withNumpy,
        'import numpy',
        "total = sum(numpy.loadtxt(io.BytesIO(data), delimiter=',', skiprows=1)[:, 2].tolist())",
      ),
    );
  return readers;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}
