import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Gathered, mainLedger } from '../../src/publish/gather/index.ts';
import { formatEstimate } from '../../src/quantity/index.ts';
import { inEnglish } from './draft/gathered-lab.ts';
import { has, runOn, textOfPdf } from './outside-tools.ts';
import { gatherQuickly, publishLab } from './published-lab.ts';

let gathered: Gathered;
let set: ReadonlyMap<string, Uint8Array>;

beforeAll(async () => {
  gathered = await gatherQuickly('tow-chain');
  const files = await publishLab('tow-chain', gathered, inEnglish, ['pdf', 'docx', 'slides']);
  set = new Map(
    files.flatMap(({ name, content }) => (typeof content === 'string' ? [] : [[name, content] as const])),
  );
}, 180_000);

const bare = (text: string) => text.replace(/[\s\u00a0]+/gu, ' ');
const filesEnding = (ending: string) => [...set].filter(([name]) => name.endsWith(ending));

/** What every guide must say, in numbers: each line of the ledger of each result, as the formatter prints it. */
function numbersOfGuide(): readonly string[] {
  return gathered.pipeline.lab.results.flatMap((result) => {
    const ledger = mainLedger(gathered, result.name);
    if (ledger === undefined) return [];
    const print = (value: number, standardUncertainty: number) =>
      formatEstimate({ value, standardUncertainty }, result.unit, { notation: 'plus-minus' });
    return [
      ...[ledger.theory, ledger.full, ledger.measured, ledger.remainder].flatMap((line) =>
        line === null ? [] : [print(line.value, line.standardUncertainty)],
      ),
      ...ledger.effects.map(({ share, standardUncertainty }) => print(Math.abs(share), standardUncertainty)),
    ];
  });
}

describe('the documents of the flagship', () => {
  it.skipIf(!has('pdftotext'))('state what the closed form of the slope gives (pdftotext)', () => {
    const quantity = (name: string) =>
      gathered.pipeline.lab.quantities.base.find((one) => one.name === name)?.estimate.value ?? Number.NaN;
    const [L, mt] = [quantity('L'), quantity('m_t')];
    const mc = quantity('lambda') * L;
    // v² = m_c g (x² − x₀²) / (L (m_t + m_c)): kinetic energy of all that moves from the work of a growing pull.
    const slope = (mc * quantity('g')) / (L * (mt + mc));
    expect(slope).toBeCloseTo(2.2664, 4);
    const text = bare(textOfPdf(set.get('teacher-guide.pdf') ?? new Uint8Array()));
    expect(text).toContain(`Ideal theory gives (${slope.toFixed(4)} ±`);
    expect(text).toContain(`Ideal theory would give ${slope.toFixed(3)} 1/s²`);
  });

  it.skipIf(!has('pdftotext'))('hold every number of the ledgers in the PDF of the guide (pdftotext)', () => {
    const text = bare(textOfPdf(set.get('teacher-guide.pdf') ?? new Uint8Array()));
    const numbers = numbersOfGuide();
    expect(numbers.length).toBeGreaterThanOrEqual(20);
    for (const number of numbers) expect(text).toContain(bare(number));
  });

  it.skipIf(!has('pdffonts'))('embed every font of every PDF (pdffonts)', () => {
    const files = filesEnding('.pdf');
    expect(files).toHaveLength(9);
    for (const [, pdf] of files) {
      const rows = runOn('pdffonts', 'a.pdf', pdf, ['a.pdf']).out.trim().split('\n').slice(2);
      expect(rows.length).toBeGreaterThan(1);
      for (const row of rows) expect(row).toMatch(/ yes yes yes +\d+ +0$/);
    }
  });

  it.skipIf(!has('pdftotext'))('have no page that bears nothing but where it comes from (pdftotext)', () => {
    for (const [name, pdf] of filesEnding('.pdf')) {
      const pages = textOfPdf(pdf)
        .split('\f')
        .filter((page) => page.trim() !== '');
      const [last = ''] = pages.slice(-1);
      expect([name, /^\s*Licence:/u.test(last)]).toEqual([name, false]);
    }
  });

  it.skipIf(!has('soffice'))(
    'open in an office suite, which finds the same numbers in the guide (soffice)',
    () => {
      const folder = mkdtempSync(join(tmpdir(), 'publish-test-'));
      const names = filesEnding('.docx').map(([name, bytes]) => {
        writeFileSync(join(folder, name), bytes);
        return name;
      });
      expect(names).toHaveLength(8);
      const profile = `-env:UserInstallation=${pathToFileURL(join(folder, 'profile'))}`;
      spawnSync('soffice', [profile, '--headless', '--convert-to', 'txt:Text (encoded):UTF8', ...names], {
        cwd: folder,
      });
      const textOf = (name: string) =>
        bare(readFileSync(join(folder, name.replace(/docx$/u, 'txt')), 'utf8'));
      for (const name of names) expect(textOf(name)).toContain('A trolley drawn by its own tow chain');
      for (const number of numbersOfGuide()) expect(textOf('teacher-guide.docx')).toContain(bare(number));
      for (const level of ['steps', 'algebra', 'calculus'])
        expect(textOf(`handout-${level}.docx`)).toContain('responsible, qualified staff decide');
    },
    120_000,
  );
});
