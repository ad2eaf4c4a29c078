const digits = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** An integer in superscript characters: −12 is `⁻¹²`. */
export function formatSuperscript(n: number): string {
  return Array.from(String(n), (character) => (character === '-' ? '⁻' : digits[Number(character)])).join('');
}

/** The integer that superscript characters spell, with an optional sign ⁺ or ⁻. */
export function readSuperscript(text: string): number {
  const plain = Array.from(text, (character) => {
    const digit = digits.indexOf(character);
    return digit >= 0 ? String(digit) : character === '⁻' ? '-' : '';
  }).join('');
  return Number(plain);
}
