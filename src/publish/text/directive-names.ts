/** Directives in a line of text. */
export const INLINE_NAMES: readonly string[] = [
  'value',
  'symbol',
  'formula',
  'tex',
  'blank',
  'cite',
  'answer',
];

/** Directives on a line of their own. */
const LINE_NAMES: readonly string[] = ['figure', 'table', 'derivation', 'draft'];

/** Directives that enclose paragraphs. */
const BLOCK_NAMES: readonly string[] = ['teacher', 'level', 'question', 'answer', 'caution'];

export const ALL_DIRECTIVES: readonly string[] = [
  ...new Set([...INLINE_NAMES, ...LINE_NAMES, ...BLOCK_NAMES]),
];

/** How a directive is written; null where there is none of that name. */
export function formOf(name: string): 'line' | 'own line' | 'block' | null {
  if (LINE_NAMES.includes(name)) return 'own line';
  if (BLOCK_NAMES.includes(name)) return 'block';
  return INLINE_NAMES.includes(name) ? 'line' : null;
}

/** A sentence that says how a known directive is written. */
export function describeForm(name: string): string {
  switch (formOf(name)) {
    case 'own line':
      return `It stands on a line of its own: ::${name}.`;
    case 'block':
      return `It encloses paragraphs: a line :::${name} before them and a line ::: behind.`;
    default:
      return `It stands in a line: :${name}[…].`;
  }
}
