import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isSymbol,
  parseEquation,
  parseExpression,
  sameTree,
  toText,
  walkTree,
} from '../../src/expression/index.ts';
import { formatProblem, type Origin } from '../../src/problem/index.ts';
import { randomTrees, treeOf } from './random-trees.ts';

const origin: Origin = { placeAt: (offset) => ({ file: 'lab.yaml', line: 7, column: 10 + offset }) };

function complaint(text: string): string {
  const parsed = parseExpression(text, origin);
  return parsed.ok ? 'parses' : parsed.problems.map(formatProblem).join('\n');
}

function nest(opening: string, inside: string, closing: string, times: number): string {
  return `${opening.repeat(times)}${inside}${closing.repeat(times)}`;
}

describe('functions that people write in several ways', () => {
  it.each([
    ['log(x)', 'ln(x)'],
    ['lg(x)', 'log10(x)'],
    ['arctan(x) + arcsin(x) + arccos(x)', 'atan(x) + asin(x) + acos(x)'],
    ['pow(a + 1, -b)^c', '((a + 1)^(-b))^c'],
    ['-pow(x, 2)', '-(x^2)'],
    ['1/pow(x, y + 1)', '1/x^(y + 1)'],
  ])('%s is read as %s', (text, plain) => {
    expect(sameTree(treeOf(text), treeOf(plain))).toBe(true);
  });

  it('pow wants two values', () => {
    expect(complaint('pow(x)')).toContain('pow(x, y)');
    expect(complaint('pow(x < 1, 2)')).toContain('pow(x, y)');
  });
});

describe('precedence', () => {
  it.each([
    ['-x^2', '-(x^2)'],
    ['2^-x^2', '2^(-(x^2))'],
    ['a^b^c', 'a^(b^c)'],
    ['-a*b', '(-a)*b'],
    ['a/b*c', '(a/b)*c'],
    ['a - b - c', '(a - b) - c'],
    ['a + b*c^d', 'a + (b*(c^d))'],
    ['a*-b + c', '(a*(-b)) + c'],
    ['--a', '-(-a)'],
    ['+a', 'a'],
    ['a < b + 1 and c > d or e < f', '((a < (b + 1)) and (c > d)) or (e < f)'],
    ['not a < b and c < d', '(not (a < b)) and (c < d)'],
    ["x''^2", "(x'')^2"],
  ])('%s is read as %s', (text, bracketed) => {
    expect(sameTree(treeOf(text), treeOf(bracketed))).toBe(true);
  });

  it('tells apart what brackets tell apart', () => {
    expect(sameTree(treeOf('a - (b - c)'), treeOf('a - b - c'))).toBe(false);
    expect(sameTree(treeOf('(-x)^2'), treeOf('-x^2'))).toBe(false);
    expect(sameTree(treeOf('(a^b)^c'), treeOf('a^b^c'))).toBe(false);
  });
});

describe('signs as people type them', () => {
  it.each([
    ['m·g × h − 1 ÷ 2', 'm*g*h - 1/2'],
    ['a ≤ b', 'a <= b'],
    ['a ≥ b', 'a >= b'],
    ['x² + y³', 'x^2 + y^3'],
    ['r⁻²', 'r^-2'],
    ['x′ + x″ + x’', "x' + x'' + x'"],
  ])('%s is %s', (text, plain) => {
    expect(sameTree(treeOf(text), treeOf(plain))).toBe(true);
  });

  it.each(['θ₀', 'm_c', 'F_r', 'é', 'Δt', 'k2', '_a', 'constructor', 'Ω'])('%s can be a symbol', (name) => {
    expect(isSymbol(name)).toBe(true);
    expect(treeOf(name)).toEqual({ kind: 'name', name, primes: 0, span: { start: 0, end: name.length } });
  });

  it.each(['2x', 'a b', 'and', 'x²', '', "x'", 'a.b', '$x'])('"%s" cannot be a symbol', (name) => {
    expect(isSymbol(name)).toBe(false);
  });

  it.each([
    ['1.9e-6', 1.9e-6],
    ['.5', 0.5],
    ['2.', 2],
    ['1E3', 1000],
    ['0.1', 0.1],
    ['9007199254740993', 9007199254740992],
  ])('%s is the double nearest to it', (text, value) => {
    expect(treeOf(text)).toMatchObject({ kind: 'number', value });
  });
});

describe('spans', () => {
  it('of every node cut its own text out of the whole', () => {
    const text = ' sin( a+b ) * -(c - d)^2 < if(e > 0.2 m, f, 1e3)';
    const found: string[] = [];
    walkTree(treeOf(text), (node) => found.push(text.slice(node.span.start, node.span.end)));
    expect(found).toContain('sin( a+b )');
    expect(found).toContain('a+b');
    expect(found).toContain('-(c - d)^2');
    expect(found).toContain('(c - d)^2');
    expect(found).toContain('c - d');
    expect(found).toContain('0.2 m');
    expect(found).toContain('sin( a+b ) * -(c - d)^2');
    expect(found.at(-1)).toBe(text.trim());
  });
});

describe('numbers with a unit', () => {
  it.each([
    ['x > 0.20 m', 0.2, 'm'],
    ['T > -5 °C', 268.15, '°C'],
    ['v >= 0 m/s', 0, 'm/s'],
    ['I < 1.9e-6 kg m^2', 1.9e-6, 'kg m^2'],
    ['c < 4.2 kJ/(kg K)', 4200, 'kJ/(kg K)'],
    ['k > 5 1/s', 5, '1/s'],
    ['f < 50 %', 0.5, '%'],
    ['M < 2 N·m', 2, 'N·m'],
    ['a < 9.81 m s⁻²', 9.81, 'm s⁻²'],
    ['x > (3 cm)', 0.03, 'cm'],
  ])('in %s is %f in SI', (text, value, unit) => {
    const tree = treeOf(text);
    const right = tree.kind === 'compare' ? tree.right : undefined;
    expect(right).toMatchObject({ kind: 'number', unit });
    expect(right?.kind === 'number' ? right.value : Number.NaN).toBeCloseTo(value, 12);
  });

  it('may be the whole text', () => {
    expect(treeOf('-3 cm')).toMatchObject({
      kind: 'number',
      value: -0.03,
      unit: 'cm',
      span: { start: 0, end: 5 },
    });
  });

  it('ends before what is no unit: "and" goes on', () => {
    expect(treeOf('x > 0.20 m and x < 1.05 m')).toMatchObject({ kind: 'logic', operator: 'and' });
  });
});

describe('what is not of the language gets its place and what would be right', () => {
  it.each([
    ['', 'lab.yaml:7:10  An expression is missing here: the text is empty.'],
    ['x +', 'lab.yaml:7:13  The expression ends after "+", where a value should follow.'],
    ['* x', 'lab.yaml:7:10  The expression starts with "*", where a value would be right.'],
    ['x * ) y', 'lab.yaml:7:14  ")" stands after "*", where a value would be right.'],
    ['(x', 'lab.yaml:7:10  The bracket that opens here is never closed.'],
    ['sin(x', 'lab.yaml:7:13  The bracket that opens here is never closed.'],
    ['x)', 'lab.yaml:7:11  The bracket that closes here was never opened.'],
    ['2x', 'lab.yaml:7:11  Between "2" and "x" an operator is missing. For a product write 2*x.'],
    ['a b', 'lab.yaml:7:12  Between "a" and "b" an operator is missing. For a product write a*b.'],
    [
      '1,2',
      'lab.yaml:7:11  A comma only separates the arguments of a function. Decimals are written with a point in expressions: 1.2.',
    ],
    [
      'x = 1',
      'lab.yaml:7:12  "=" makes an equation; here one expression would be right. Values are compared with <, <=, > or >=.',
    ],
    ['0 < x < 1', 'lab.yaml:7:10  Two comparisons stand in a row. Write 0 < x and x < 1.'],
    ['a ** 2', 'lab.yaml:7:12  "**" is not a sign of expressions. A power is written with ^: x^2.'],
    [
      'a > b && c > d',
      'lab.yaml:7:16  "&&" is not a sign of expressions. Two conditions are joined with "and".',
    ],
    [
      'a != b',
      'lab.yaml:7:12  "!=" is not a sign of expressions. Values that are measured or computed are compared with <, <=, > or >=.',
    ],
    ['√x', 'lab.yaml:7:10  "√" is not a sign of expressions. A square root is written sqrt(x).'],
    ['a\u200bb', 'lab.yaml:7:11  The unseen character U+200B is not a sign of expressions.'],
    [
      'sine(x)',
      'lab.yaml:7:10  "sine" is not a function here. Did you mean "sin"? If it is a symbol to be multiplied, write sine*(…).',
    ],
    [
      'atan2(x)',
      'lab.yaml:7:10  atan2(y, x) takes 2 arguments; 1 is given. If atan2 is a symbol to be multiplied, write atan2*(…).',
    ],
    ['min()', 'lab.yaml:7:10  min(a, b, …) takes at least 2 arguments; none are given.'],
    [
      'integrate(f, 2, 0, 1)',
      'lab.yaml:7:23  "2" stands as argument 2 of integrate(f, s, a, b): a bare symbol would be right.',
    ],
    [
      'x + 2 m',
      'lab.yaml:7:14  "2 m" is a number with a unit; in an expression it may only be one whole side of a comparison. Make it a quantity and write its symbol here. If "m" is meant as a symbol, write 2*m.',
    ],
    [
      '(x > y) + 1',
      'lab.yaml:7:11  "(x > y)" is true or false; beside "+" a value would be right. A condition becomes a value by if(condition, a, b); brackets may be missing.',
    ],
    [
      'x and y',
      'lab.yaml:7:10  "x" is a value; beside "and" a condition would be right, such as x > 0.20 m.',
    ],
    [
      'if(x, 1, 2)',
      'lab.yaml:7:13  "x" is a value; as argument 1 of if(condition, a, b) a condition would be right, such as x > 0.20 m.',
    ],
    ["x'''''", `lab.yaml:7:11  "x" has 5 primes; at most 4 are read.`],
    ["pi'", "lab.yaml:7:10  pi is a constant; it has no derivative to mark with '."],
    ["(x)'", `lab.yaml:7:13  "'" must stand directly behind a symbol: x'.`],
    ['1e999', 'lab.yaml:7:10  1e999 is larger than a number can be here (about 1e-308 to 1e308).'],
    ['1e-999', 'lab.yaml:7:10  1e-999 is closer to zero than a number can be here (about 1e-308 to 1e308).'],
  ])('%s', (text, message) => {
    expect(complaint(text)).toBe(message);
  });
});

describe('an equation', () => {
  it('has two sides, each with its place in the file', () => {
    const parsed = parseEquation("(m_t + m_c)*x'' = lambda*g*x", origin);
    expect(parsed).toMatchObject({ ok: true });
    if (!parsed.ok) return;
    expect(toText(parsed.value.left.tree)).toBe("(m_t + m_c)*x''");
    expect(toText(parsed.value.right.tree)).toBe('lambda*g*x');
    expect(parsed.value.right.origin?.placeAt(parsed.value.right.tree.span.start)).toMatchObject({
      column: 10 + 18,
    });
  });

  it.each([
    ['a', 'lab.yaml:7:10  The equation has no "="; it needs one, between its two sides.'],
    ['a = b = c', 'lab.yaml:7:16  The equation has 2 times "="; it needs one, between its two sides.'],
    ['a > b = c', 'lab.yaml:7:10  "a > b" is true or false; a side of an equation is a value.'],
    [
      'a + = * b',
      'lab.yaml:7:14  The expression ends after "+", where a value should follow.\nlab.yaml:7:16  The expression starts with "*", where a value would be right.',
    ],
  ])('such as %s is refused', (text, message) => {
    const parsed = parseEquation(text, origin);
    expect(parsed.ok ? '' : parsed.problems.map(formatProblem).join('\n')).toBe(message);
  });
});

describe('hostile texts', () => {
  it.each([
    'constructor(x)',
    '__proto__(x)',
    'toString()',
    'hasOwnProperty(x)',
    'eval(x)',
    'globalThis.process',
    'a.b',
    'a["b"]',
    // biome-ignore lint/suspicious/noTemplateCurlyInString: a hostile text on purpose
    '`${x}`',
    '"x"',
    'x => x',
    'x; y',
    'x ? 1 : 2',
    '10n',
    '0x10',
    '0b1',
    '/* x */ 1',
    '1 // x',
    '\\u0061',
    'import(x)',
    'new Function(x)',
    '{}',
    '[x]',
    '@x',
    '#x',
    'a\u0000b',
    '\ud800',
  ])('%s is refused with a problem', (text) => {
    const parsed = parseExpression(text);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.problems[0].message).toMatch(/^.{10,200}$/su);
  });

  it.each([
    ['brackets', nest('(', 'x', ')', 5000)],
    ['functions', nest('sin(', 'x', ')', 3000)],
    ['signs', `${'-'.repeat(9000)}x`],
    ['powers', `x${'^x'.repeat(9000)}`],
    ['negations', `${'not '.repeat(4000)}x > 1`],
    ['sums on the right', nest('(x + ', 'x', ')', 1500)],
    ['sums', `x${'+x'.repeat(900)}`],
  ])('%s nested thousands deep are refused, not followed', (_what, text) => {
    const parsed = parseExpression(text);
    expect(parsed.ok ? '' : parsed.problems[0].code).toBe('expression-too-deep');
  });

  it('with too many parts or characters are refused', () => {
    const wide = parseExpression(`max(${Array.from({ length: 6000 }, () => 'x').join(',')})`);
    expect(wide.ok ? '' : wide.problems[0].code).toBe('expression-too-large');
    const long = parseExpression(`${' '.repeat(30_000)}x`);
    expect(long.ok ? '' : long.problems[0].code).toBe('expression-too-long');
  });

  it('with integrals or derivatives far inside one another are refused', () => {
    const integrals = parseExpression(nest('integrate(', 'x', ', s, 0, 1)', 5));
    expect(integrals.ok ? '' : integrals.problems[0].code).toBe('too-many-integrals');
    const derivatives = parseExpression(nest('d(', 'x^9', ', x)', 8));
    expect(derivatives.ok ? '' : derivatives.problems[0].code).toBe('too-many-derivatives');
  });

  it('made of random words never throw, and give a tree or a problem', () => {
    const words = fc.constantFrom(
      ..."x m_c 2 1.5e3 ( ) , + - * / ^ < <= > and or not if( min( integrate( d( interpolate( dry( m kg °C % ' ² = . · θ₀ pi s".split(
        ' ',
      ),
    );
    const text = fc.oneof(
      fc.array(words, { maxLength: 24 }).map((all) => all.join(' ')),
      fc.array(words, { maxLength: 24 }).map((all) => all.join('')),
      fc.string({ unit: 'binary', maxLength: 60 }),
    );
    fc.assert(
      fc.property(text, (candidate) => {
        const parsed = parseExpression(candidate, origin);
        if (parsed.ok) expect(sameTree(treeOf(toText(parsed.value.tree)), parsed.value.tree)).toBe(true);
        else expect(parsed.problems.length).toBeGreaterThan(0);
        parseEquation(candidate, origin);
      }),
      { numRuns: 3000, seed: 20240611 },
    );
  });
});

describe('a tree printed as text', () => {
  const { value, condition } = randomTrees({ everything: true });

  it('parses to the same tree', () => {
    fc.assert(
      fc.property(fc.oneof(value, condition), (tree) => {
        const text = toText(tree);
        expect(sameTree(treeOf(text), tree), text).toBe(true);
      }),
      { numRuns: 2000, seed: 7 },
    );
  });

  it.each([
    'a - (b - c)',
    'a/(b*c)',
    '(-x)^2',
    '-x^2',
    '-(a + b)',
    'not (a > b and c > d)',
    'x > 0.2 m',
    '(a + b)*c',
    'T < -5 °C',
  ])('has the brackets it needs and no other: %s', (text) => {
    expect(toText(treeOf(text))).toBe(text);
  });
});
