import { DOMParser } from '@xmldom/xmldom';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { readXlsx } from 'hucre';
import { describe, expect, it } from 'vitest';
import { classroomSteps } from '../../src/evolve/index.ts';
import { emitFormula, sheetNames, writeSpreadsheet } from '../../src/publish/spreadsheet/index.ts';
import { describeStepwise, type StepwiseModel } from '../../src/publish/stepwise/index.ts';
import type { WriterExtras } from '../../src/publish/writing/index.ts';
import { has, runOn } from './outside-tools.ts';
import { galleryLab } from './sample-lab.ts';
import { german, HOSTILE, hostileTree, SAMPLE_BLOCKS, sampleTree, tree } from './sample-tree.ts';

const X = [0.05, 0.1, 0.2, 0.35, 0.5, 0.7];
const Y = [0.11, 0.25, 0.55, 1.02, 1.49, 2.11];

function extrasOf(name: string, method: StepwiseModel['method'], stepS: number): WriterExtras {
  const pipeline = galleryLab(name);
  return {
    stations: [],
    stepwise: describeStepwise(pipeline.lab, pipeline.values(pipeline.nominal), { method, stepS }),
    trials: [
      {
        name: 'short 1',
        file: 'trials/a.csv',
        columns: [{ heading: 'edge time (s)', values: [0.1, 0.2, 0.31] }],
      },
    ],
    lines: [
      { name: 'slope', x: { heading: 'x² / m²', values: X }, y: { heading: 'v² / (m²/s²)', values: Y } },
    ],
  };
}

function classroomEnd(
  name: string,
  method: StepwiseModel['method'],
  stepS: number,
  changed: Readonly<Record<string, number>> = {},
): readonly number[] {
  const pipeline = galleryLab(name);
  const { model } = pipeline.lab;
  if (model.kind !== 'motion') throw new Error('no motion');
  const settings = pipeline.lab.quantities.base.flatMap((quantity) => {
    const value = changed[quantity.name];
    return value === undefined ? [] : [{ quantity, value }];
  });
  const values = pipeline.values(pipeline.nominal, settings);
  const stepped = classroomSteps(model.model, values, { stepper: method, stepS });
  if (!stepped.ok) throw new Error('not stepped');
  const end = new Float64Array(model.model.stateNames.length);
  stepped.value.stateAt(stepped.value.endS, end);
  return [stepped.value.endS, ...end];
}

/** Each sheet as an office suite works it out, all formulas anew. */
function recalculated(xlsx: Uint8Array): readonly string[][][] {
  const run = runOn('soffice', 'a.xlsx', xlsx, [
    '--headless',
    '--convert-to',
    'csv:Text - txt - csv (StarCalc):124,34,76,1,,0,false,false,false,false,false,-1',
    'a.xlsx',
  ]);
  return run
    .files()
    .filter((file) => file.endsWith('.csv'))
    .map((file) =>
      run
        .made(file)
        .replaceAll('"', '')
        .split('\n')
        .map((line) => line.split('|')),
    );
}

const CASES = [
  ['tow-chain', 'semi-implicit-euler', 0.01],
  ['falling-chain', 'forward-euler', 0.01],
  ['long-swing', 'semi-implicit-euler', 0.02],
] as const;

describe('a workbook', () => {
  it.skipIf(!has('soffice')).each(CASES)(
    'recalculated by an office suite ends where the classroom stepper ends: %s (soffice)',
    async (name, method, stepS) => {
      const xlsx = await writeSpreadsheet(sampleTree(), extrasOf(name, method, stepS), { results: false });
      const sheets = recalculated(xlsx);
      const inputs = sheets.find((rows) => rows[3]?.[0] === 'symbol') ?? [];
      const from = inputs.findIndex((row) => row[0] === 'at the end of the motion');
      const found = inputs.slice(from + 2, from + 5).map((row) => Number(row[5]));
      for (const [index, value] of classroomEnd(name, method, stepS).slice(0, 3).entries())
        expect(Math.abs((found[index] ?? Number.NaN) - value)).toBeLessThan(
          1e-9 * Math.max(1, Math.abs(value)),
        );
      const line = sheets.find((rows) => rows[1]?.[0] === 'All points count alike here.') ?? [];
      // Closed form of the unweighted line, as in any handbook.
      const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;
      const sxy = mean(X.map((x, k) => (x - mean(X)) * ((Y[k] ?? 0) - mean(Y))));
      const sxx = mean(X.map((x) => (x - mean(X)) ** 2));
      expect(Number(line[4]?.[1])).toBeCloseTo(sxy / sxx, 12);
    },
  );

  it.skipIf(!has('soffice'))('follows when a student changes the length of the chain (soffice)', async () => {
    const extras = extrasOf('tow-chain', 'semi-implicit-euler', 0.01);
    const xlsx = await writeSpreadsheet(sampleTree(), extras, { results: false });
    const book = await readXlsx(xlsx);
    const row = book.sheets[0]?.rows.findIndex(([symbol]) => symbol === 'L') ?? -1;
    const files = unzipSync(xlsx);
    const cell = new RegExp(`(<c r="C${row + 1}"[^>]*><v>)1\\.2(</v>)`, 'u');
    const sheet = strFromU8(files['xl/worksheets/sheet1.xml'] ?? new Uint8Array());
    expect(sheet).toMatch(cell);
    files['xl/worksheets/sheet1.xml'] = strToU8(sheet.replace(cell, '$11.5$2'));
    const [inputs = []] = recalculated(zipSync(files)).filter((rows) => rows[3]?.[0] === 'symbol');
    const from = inputs.findIndex(([head]) => head === 'at the end of the motion');
    const found = inputs.slice(from + 2, from + 5).map((cells) => Number(cells[5]));
    const expected = classroomEnd('tow-chain', 'semi-implicit-euler', 0.01, { L: 1.5 });
    for (const [index, value] of expected.entries())
      expect(Math.abs((found[index] ?? Number.NaN) - value)).toBeLessThan(1e-9);
    const before = classroomEnd('tow-chain', 'semi-implicit-euler', 0.01);
    expect(Math.abs((expected[2] ?? 0) - (before[2] ?? 0))).toBeGreaterThan(0.01);
  });

  it('holds a formula for every step, and names for its inputs', async () => {
    const xlsx = await writeSpreadsheet(sampleTree(), extrasOf('tow-chain', 'semi-implicit-euler', 0.01));
    const book = await readXlsx(xlsx);
    expect(book.sheets.map(({ name }) => name)).toEqual([
      'Inputs',
      'Model',
      'Line slope',
      'short 1',
      'About',
    ]);
    const names = (book.namedRanges ?? []).map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(['L', 'm_t', 'R_', 'dt']));
    const files = unzipSync(xlsx);
    const model = strFromU8(files['xl/worksheets/sheet2.xml'] ?? new Uint8Array());
    expect(model.match(/<f>/g)?.length ?? 0).toBeGreaterThan(500);
    expect(Object.keys(files).filter((name) => /charts\/chart\d+\.xml$/.test(name))).toHaveLength(3);
    for (const [name, bytes] of Object.entries(files))
      if (/\.(xml|rels)$/.test(name)) {
        const faults: string[] = [];
        new DOMParser({ onError: (_level, message) => faults.push(message) }).parseFromString(
          strFromU8(bytes),
          'application/xml',
        );
        expect(faults).toEqual([]);
      }
  });

  it('is the same, byte for byte, each time', async () => {
    const extras = extrasOf('tow-chain', 'semi-implicit-euler', 0.02);
    const [one, two] = [
      await writeSpreadsheet(sampleTree(), extras),
      await writeSpreadsheet(sampleTree(), extras),
    ];
    expect(Buffer.from(one).equals(Buffer.from(two))).toBe(true);
  });

  it('holds hostile cells as text', async () => {
    const extras: WriterExtras = {
      stations: [],
      stepwise: null,
      trials: [
        { name: HOSTILE.formula, file: 'a.csv', columns: [{ heading: HOSTILE.formula, values: [1] }] },
      ],
      lines: [
        {
          name: HOSTILE.formula,
          x: { heading: HOSTILE.formula, values: X },
          y: { heading: '+1', values: Y },
        },
      ],
    };
    const xlsx = await writeSpreadsheet(hostileTree(), extras);
    const formulas = Object.entries(unzipSync(xlsx))
      .filter(([name]) => name.startsWith('xl/worksheets/'))
      .flatMap(([, bytes]) => [...strFromU8(bytes).matchAll(/<f>(.*?)<\/f>/g)].map(([, text]) => text));
    expect(formulas.filter((text) => text?.includes('HYPERLINK'))).toEqual([]);
    const book = await readXlsx(xlsx);
    expect(book.sheets.some(({ rows }) => rows.some((row) => row.includes(HOSTILE.formula)))).toBe(true);
  });

  it('speaks German where asked, and carries the digest', async () => {
    const german_ = sampleTree(SAMPLE_BLOCKS, german);
    const xlsx = await writeSpreadsheet(german_, extrasOf('tow-chain', 'semi-implicit-euler', 0.02));
    const book = await readXlsx(xlsx);
    expect(book.sheets[0]?.name).toBe('Eingaben');
    expect(strFromU8(unzipSync(xlsx)['docProps/custom.xml'] ?? new Uint8Array())).toContain(
      german_.provenance.digest,
    );
  });

  it('says why where a model cannot be written into cells', async () => {
    const pipeline = galleryLab('tow-chain');
    const described = describeStepwise(pipeline.lab, pipeline.values(pipeline.nominal), {
      method: 'forward-euler',
      stepS: 0.01,
    });
    if (!described.ok) throw new Error('not described');
    const states = described.value.states.map((state) => ({
      ...state,
      rate: tree('integrate(s^2, s, 0, v)'),
    }));
    const stepwise = { ...described, value: { ...described.value, states } };
    const book = await readXlsx(
      await writeSpreadsheet(sampleTree(), { stepwise, trials: [], lines: [], stations: [] }),
    );
    expect(JSON.stringify(book.sheets[0]?.rows)).toContain('integrate(…), which a cell cannot work out');
  });
});

describe('an expression as a formula', () => {
  const formula = (text: string): string => {
    const made = emitFormula(tree(text), (name) => name);
    return made.ok ? made.value : made.problems.map(({ message }) => message).join();
  };

  it('brackets everything that programs read differently', () => {
    expect(formula('-x^2')).toBe('(-(x^2))');
    expect(formula('2^-x')).toBe('(2^(-x))');
    expect(formula('a/b/c')).toBe('((a/b)/c)');
  });

  it('knows what functions are called, and the order of their arguments', () => {
    expect(formula('atan2(y, x)')).toBe('ATAN2(x,y)');
    expect(formula('ln(x) + log10(y)')).toBe('(LN(x)+LOG10(y))');
    expect(formula('if(x > 1 and y < 2, a, b)')).toBe('IF(AND((x>1),(y<2)),a,b)');
    expect(formula('hypot(x, y)*pi')).toBe('(SQRT(SUMSQ(x,y))*PI())');
    expect(formula('1e-7*x')).toBe('(1E-7*x)');
  });

  it('gives no name that programs would read as a cell', () => {
    const names = sheetNames(['k2', 'R', 'c', 'x_0', 'M', 'm', 'θ₀', 'dt', 'lambda'], ['dt', 't']);
    expect([...names.values()]).toEqual(['k2_', 'R_', 'c_', 'x_0', 'M', 'm_2', 'θ0', 'dt_2', 'lambda']);
  });
});
