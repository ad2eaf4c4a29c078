const RESERVED: ReadonlySet<string> = new Set([
  ...[
    'False',
    'None',
    'True',
    'and',
    'as',
    'assert',
    'async',
    'await',
    'break',
    'class',
    'continue',
    'def',
    'del',
  ],
  ...[
    'elif',
    'else',
    'except',
    'finally',
    'for',
    'from',
    'global',
    'if',
    'import',
    'in',
    'is',
    'lambda',
    'nonlocal',
  ],
  ...[
    'not',
    'or',
    'pass',
    'raise',
    'return',
    'try',
    'while',
    'with',
    'yield',
    'match',
    'case',
    'type',
    'math',
    'sys',
  ],
  ...[
    'abs',
    'min',
    'max',
    'print',
    'range',
    'sign',
    'cube_root',
    'integral',
    'curve',
    'inner',
    'TABLES',
    'dt',
    't',
  ],
  ...[
    't_end',
    'rows',
    'step',
    'theta',
    'plot',
    'len',
    'zip',
    'before',
    'next_t',
    'h',
    'moving',
    'run',
    'old',
    'new',
  ],
  ...['free', 'added', 'row', 'figure', 'axes'],
]);

/** Names that the program makes for itself: margins of stops and jumps, rates. */
const OWN = /^(?:(?:before|after|was|due)_\d+|rate_of_.*)$/u;

const LOWERED = '₀₁₂₃₄₅₆₇₈₉';

/** A name for each symbol that Python accepts, each once; Python takes letters that look alike for one. */
export function pythonNames(symbols: readonly string[]): ReadonlyMap<string, string> {
  const used = new Set(RESERVED);
  const names = new Map<string, string>();
  for (const symbol of symbols) {
    const plain = symbol
      .replace(/[₀-₉]/gu, (digit) => `_${LOWERED.indexOf(digit)}`)
      .replace(/[^\p{L}\p{N}_]/gu, '_')
      .normalize('NFKC');
    let name = /^[\p{L}_]/u.test(plain) ? plain : `_${plain}`;
    while (used.has(name) || OWN.test(name)) name += '_';
    used.add(name);
    names.set(symbol, name);
  }
  return names;
}
