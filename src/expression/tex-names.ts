/** Greek letters by the way they are written in a symbol. */
const GREEK: ReadonlyMap<string, string> = new Map([
  ['α', 'alpha'],
  ['β', 'beta'],
  ['γ', 'gamma'],
  ['δ', 'delta'],
  ['ε', 'varepsilon'],
  ['ϵ', 'epsilon'],
  ['ζ', 'zeta'],
  ['η', 'eta'],
  ['θ', 'theta'],
  ['ϑ', 'vartheta'],
  ['ι', 'iota'],
  ['κ', 'kappa'],
  ['λ', 'lambda'],
  ['μ', 'mu'],
  ['µ', 'mu'],
  ['ν', 'nu'],
  ['ξ', 'xi'],
  ['π', 'pi'],
  ['ρ', 'rho'],
  ['σ', 'sigma'],
  ['τ', 'tau'],
  ['υ', 'upsilon'],
  ['φ', 'varphi'],
  ['ϕ', 'phi'],
  ['χ', 'chi'],
  ['ψ', 'psi'],
  ['ω', 'omega'],
  ['Γ', 'Gamma'],
  ['Δ', 'Delta'],
  ['Θ', 'Theta'],
  ['Λ', 'Lambda'],
  ['Ξ', 'Xi'],
  ['Π', 'Pi'],
  ['Σ', 'Sigma'],
  ['Φ', 'Phi'],
  ['Ψ', 'Psi'],
  ['Ω', 'Omega'],
]);

const GREEK_WORDS: ReadonlySet<string> = new Set(GREEK.values());

/** How a derivative with respect to time is marked. */
export type DerivativeMark = 'dots' | 'primes';

/**
 * A symbol as TeX: m_c is m_{c}, theta_0 and θ₀ are \theta_{0}, k2 is k_{2}, F_max is F_{\mathrm{max}}.
 *
 * @param primes derivatives with respect to time, as dots above (up to two) or primes behind
 */
export function symbolToTeX(name: string, primes = 0, mark: DerivativeMark = 'dots'): string {
  const [base, ...lower] = splitSymbol(name);
  const index = lower.length === 0 ? '' : `_{${lower.map(wordToTeX).join(',')}}`;
  const letter = wordToTeX(base);
  if (primes === 0) return `${letter}${index}`;
  if (mark === 'dots' && primes <= 2) return `\\${primes === 1 ? 'dot' : 'ddot'}{${letter}}${index}`;
  return mark === 'primes' && primes <= 3
    ? `${letter}${index}${"'".repeat(primes)}`
    : `${letter}${index}^{(${primes})}`;
}

/** The letter, then the parts of its index. */
function splitSymbol(name: string): string[] {
  const lowered = name.replace(
    /[₀-₉]+/gu,
    (digits) => `_${[...digits].map((digit) => '₀₁₂₃₄₅₆₇₈₉'.indexOf(digit)).join('')}`,
  );
  const parts = lowered.split('_').filter((part) => part !== '');
  const [first = name, ...rest] = parts;
  const digits = /^(\p{L}+)(\p{Nd}+)$/u.exec(first);
  return digits === null ? [first, ...rest] : [digits[1], digits[2], ...rest];
}

function wordToTeX(word: string): string {
  const greek = GREEK.get(word);
  if (greek !== undefined) return `\\${greek}`;
  if (GREEK_WORDS.has(word)) return `\\${word}`;
  return [...word].length === 1 || /^\p{Nd}+$/u.test(word) ? word : `\\mathrm{${word}}`;
}
