import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { copyLab, makeFolder, type Ran, run } from './run-in-memory.ts';

const folder = await makeFolder();
const lab = await copyLab('tow-chain', folder, 'lab');
const labFile = join(lab, 'lab.yaml');
const good = await readFile(labFile, 'utf8');

type Edit = readonly [from: string, to: string];

/** Replaces one place of a text, which must be there. */
function change(text: string, [from, to]: Edit): string {
  if (!text.includes(from)) throw new Error(`"${from}" is not in the lab file any more`);
  return text.replace(from, () => to);
}

/** Checks the lab with some places changed; nothing may be written by it. */
async function checkWith(...edits: readonly Edit[]): Promise<Ran> {
  await writeFile(labFile, edits.reduce(change, good));
  const before = await readdir(lab, { recursive: true });
  const ran = await run(['check', 'lab'], { folder });
  expect(await readdir(lab, { recursive: true })).toEqual(before);
  return ran;
}

/** The messages of a run: lines that are no excerpts of the lab file. */
function messagesOf({ err }: Ran): string[] {
  return err.split('\n').filter((line) => line !== '' && !/^ *\d* │ /.test(line));
}

const brokenFit =
  '- fit: { of: v^2, as: "k2*x^2 + b + A*sin(w*x)^2 - A", free: { k2: 2 1/s^2, b: 0 m^2/s^2, A: 1e5 m^2/s^2, w: 900 1/m } }';

describe('bad input gets its place, what was found and what would be right', () => {
  it.each<[string, readonly Edit[], readonly string[]]>([
    [
      'an unknown key, with the nearest known one',
      [['effects:\n', 'efects:\n']],
      ['lab/lab.yaml:34:1  "efects" is not a key here. Did you mean "effects"?'],
    ],
    [
      'a wrong dimension',
      [['x: v, v: a }', 'x: v, v: a*m_t }']],
      [
        'lab/lab.yaml:52:27  "a*m_t" has the dimension of force (kg·m/s²); the rate of v must have the dimension of acceleration (m/s²). Divide by a mass (kg)?',
      ],
    ],
    [
      'a missing unit',
      [['value: 1.200 m, within: 2 mm, from: folding', 'value: 1.200, within: 2 mm, from: folding']],
      [
        'lab/lab.yaml:15:45  The value of L has no unit, but its "within" is in mm. Write the unit behind the value.',
      ],
    ],
    [
      'a symbol without a value',
      [['value: 80.3 g/m, u: 0.1 g/m, ', '']],
      [
        'lab/lab.yaml:16:3  lambda has no value. Give a value with its unit ("value: 1.2 m"), repeated readings ("observed: […]"), a place ("at: …") or an expression ("equals: …").',
      ],
    ],
    [
      'a symbol that nobody defined',
      [['equals: lambda*L, unit: g', 'equals: lamda*L, unit: g']],
      ['lab/lab.yaml:17:44  "lamda" is not a symbol here. Did you mean "lambda"?'],
    ],
    [
      'a circular definition',
      [
        ['equals: lambda*L, unit: g', 'equals: d_m*lambda, unit: g'],
        ['equals: 2*pi*R/10, unit: mm', 'equals: m_c/lambda, unit: mm'],
      ],
      ['lab/lab.yaml:17:3  m_c is defined through itself: m_c → d_m → m_c. Give one of them a value.'],
    ],
    [
      'an effect that changes nothing',
      [['off: { F_r: 0 N } }', 'off: { F_r: 14 mN } }']],
      [
        'lab/lab.yaml:38:3  The effect "rolling resistance" changes nothing: F_r = 14 mN is already the value. An effect names the values that switch it off.',
      ],
    ],
    [
      'a model that never stops',
      [['stops:       { the run is caught: x > x_end }', 'stops:       {}']],
      [
        'lab/lab.yaml:50:1  The model never stops: it has neither "stops" nor "lasts". Add a condition that ends the motion, or the time it lasts.',
      ],
    ],
    [
      'a value that is not finite',
      [['equals: 2*pi*R/10, unit: mm', 'equals: 2*pi*R/10/(1 - L/L), unit: mm']],
      [
        'lab/lab.yaml:27:63  d_m = 2*pi*R/10/(1 - L/L) comes out as Infinity, not as a finite number, with L = 1.2, R = 0.0182 in SI units.',
      ],
    ],
    [
      'two problems, in two messages',
      [
        ['effects:\n', 'efects:\n'],
        ['question: Does', 'questoin: Does'],
      ],
      [
        'lab/lab.yaml:5:1  "questoin" is not a key here. Did you mean "question"?',
        'lab/lab.yaml:34:1  "efects" is not a key here. Did you mean "effects"?',
      ],
    ],
    [
      'a derivation line that is not true, with both sides and their ratio',
      [["(m_t + m_c)*x'' = lambda*g*x", "(m_t + m_c)*x'' = 2*lambda*g*x"]],
      [
        'lab/lab.yaml:57:14  Line 1 of the derivation, "(m_t + m_c)*x\'\' = 2*lambda*g*x", is not true of the ideal motion: its left side is 0.120678, its right side 0.241356 (SI units), a ratio of 0.5. Is a term or a factor missing? If the line is an approximation, say how good it is with "within".',
      ],
    ],
  ])('%s', async (_name, edits, messages) => {
    const ran = await checkWith(...edits);
    expect(messagesOf(ran)).toEqual(messages);
    expect(ran.code).toBe(1);
  });

  it.each<[string, readonly Edit[], RegExp]>([
    [
      'text that is no YAML',
      [['title: A trolley', 'title: A trolley: it']],
      /^lab\/lab\.yaml:4:8 {2}This is not YAML: /,
    ],
    [
      'a stop that cannot come',
      [['value: 14 mN, u: 3 mN', 'value: 14 N, u: 3 mN']],
      /the stop "the run is caught" cannot come\. .* with less friction/,
    ],
    [
      'a stop that never comes',
      [['{ the run is caught: x > x_end }', '{ the run is caught: v < -1 m/s }']],
      /(finite continuation|No step is small enough).* t = .* s, x = /,
    ],
    [
      'a column that is not there',
      [['run: 1, reads: { wheel gate: "edge time (s)" }', 'run: 1, reads: { wheel gate: "edge tme (s)" }']],
      /There is no column "edge tme \(s\)" in run 1\. .* Did you mean "edge time \(s\)"\?/,
    ],
    [
      'too few readings for the fit, with the windows that took the others',
      [['x > 0.20 m and x < 0.95*x_end', 'x > 0.20 m and x < 0.21 m']],
      /^lab\/lab\.yaml:\d+:\d+, reduction, line of v² against x², run "short 1"; .* and 6 other places {2}1 reading is left after "keep"; a line needs at least 3\. .*x > 0\.20 m and x < 0\.21 m/,
    ],
    [
      'a fit that does not converge',
      [['- line: { of: v^2, against: x^2, slope: k2, intercept: b }', brokenFit]],
      /^lab\/lab\.yaml:\d+:\d+, reduction, fit of v² as .* {2}The fit did not settle; the best values met are k2 = .*Start from other values/,
    ],
  ])('%s', async (_name, edits, message) => {
    const ran = await checkWith(...edits);
    expect(messagesOf(ran)).toContainEqual(expect.stringMatching(message));
    expect(ran.code).toBe(1);
  });

  it('text where a number should be, with the line of the raw file', async () => {
    const file = join(lab, 'trials', 'chain-120-c.csv');
    const raw = await readFile(file, 'utf8');
    await writeFile(file, change(raw, ['1.77710', '1.777s']));
    const ran = await checkWith();
    await writeFile(file, raw);
    expect(ran.err).toMatch(/lab\/trials\/chain-120-c\.csv:5.*"1\.777s" is not a number/);
    expect(ran.code).toBe(1);
  });

  it('a trial file that is not there', async () => {
    const ran = await checkWith(['trials/chain-120-a.txt', 'trials/chain-120-x.txt']);
    expect(ran.err).toContain('"trials/chain-120-x.txt" is not there.');
    expect(ran.code).toBe(2);
  });

  it('shows the line with a mark under the place', async () => {
    const { err } = await checkWith(['effects:\n', 'efects:\n']);
    expect(err.split('\n').slice(1, 3)).toEqual(['   34 │ efects:', '      │ ▲']);
  });

  it('tells it to programs as well', async () => {
    await writeFile(labFile, change(good, ['effects:\n', 'efects:\n']));
    const { out, code } = await run(['reconcile', 'lab', '--json'], { folder });
    expect(code).toBe(1);
    expect(JSON.parse(out)).toEqual({
      problems: [
        {
          code: 'unknown-key',
          severity: 'error',
          file: 'lab.yaml',
          line: 34,
          column: 1,
          step: null,
          message: '"efects" is not a key here.',
          try_this: 'Did you mean "effects"?',
        },
      ],
    });
  });
});
