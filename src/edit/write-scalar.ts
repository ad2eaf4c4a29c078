import { isScalar, type Node, parseDocument } from 'yaml';
import type { PlainValue } from './lab-edit.ts';

/** Where a value stands: in brackets or in lines of its own, and how far it is indented there. */
export interface Setting {
  readonly inBrackets: boolean;
  /** Columns before a key of the collection that holds the value. */
  readonly indent: number;
}

/** Text in a folded block is broken before this column. */
const WIDTH = 115;

/** Words that YAML 1.1 takes for something else. */
const OTHER_WORDS = /^(yes|no|on|off|~)$/i;

/**
 * A plain value as YAML: in the form that the old value has where that is possible, else as it reads best.
 *
 * @param old the node whose place it takes, or null
 */
export function writeScalar(
  value: string | number | boolean | null,
  old: Node | null,
  setting: Setting,
): string {
  if (typeof value !== 'string') return typeof value === 'number' ? writeNumber(value) : String(value);
  const form = isScalar(old) ? old.type : undefined;
  const many = value.includes('\n') && !setting.inBrackets;
  const candidates = [
    ...(form === 'QUOTE_DOUBLE' ? [JSON.stringify(value)] : []),
    ...(form === 'QUOTE_SINGLE' ? [`'${value.replaceAll("'", "''")}'`] : []),
    ...(form === 'BLOCK_FOLDED' || (many && form === undefined) ? [fold(value, setting.indent + 2)] : []),
    ...(form === 'BLOCK_LITERAL' || many ? [literal(value, setting.indent + 2)] : []),
    ...(OTHER_WORDS.test(value) ? [] : [value]),
    JSON.stringify(value),
  ];
  return (
    candidates.find((candidate) => candidate !== null && reads(candidate, value, setting)) ??
    JSON.stringify(value)
  );
}

/** A key as YAML; quoted as the old one was. */
export function writeKey(key: string, old: Node | null = null): string {
  const form = isScalar(old) ? old.type : undefined;
  if (form === 'QUOTE_DOUBLE' || form === 'QUOTE_SINGLE') {
    const quoted = form === 'QUOTE_DOUBLE' ? JSON.stringify(key) : `'${key.replaceAll("'", "''")}'`;
    if (readsAsKey(quoted, key)) return quoted;
  }
  return readsAsKey(key, key) ? key : JSON.stringify(key);
}

function writeNumber(value: number): string {
  if (Number.isNaN(value)) return '.nan';
  if (!Number.isFinite(value)) return value > 0 ? '.inf' : '-.inf';
  return String(value);
}

/** Whether text stands for exactly this value where it is to stand. */
function reads(text: string, value: PlainValue, { inBrackets, indent }: Setting): boolean {
  if (inBrackets && text.includes('\n')) return false;
  const whole = inBrackets
    ? `{ k: ${text}, l: [${text}, 0] }\n`
    : `${' '.repeat(indent)}k: ${text}\n${' '.repeat(indent)}l: 0\n`;
  const document = parseDocument(whole, { prettyErrors: false, logLevel: 'silent', schema: 'core' });
  if (document.errors.length > 0) return false;
  const inList = document.getIn(['l', 0]);
  return (
    document.getIn(['k']) === value && (!inBrackets || inList === value) && !/(^|\s)#/.test(unquoted(text))
  );
}

/** Text that is not in quotes or a block could hide a comment. */
function unquoted(text: string): string {
  return /^["'|>]/.test(text) ? '' : text;
}

function readsAsKey(text: string, key: string): boolean {
  if (text.includes('\n')) return false;
  const options = { prettyErrors: false, logLevel: 'silent', schema: 'core', stringKeys: true } as const;
  for (const whole of [`[{ ${text}: 0 }]\n`, `- ${text}: 0\n`]) {
    const document = parseDocument(whole, options);
    if (document.errors.length > 0 || document.getIn([0, key]) !== 0) return false;
  }
  return true;
}

/** A text in a folded block, broken at single spaces; null where folding would change it. */
function fold(value: string, indent: number): string | null {
  const { header, body } = chomp(value, '>');
  const pad = ' '.repeat(indent);
  const lines: string[] = [];
  for (const [index, paragraph] of body.split('\n').entries()) {
    if (/^[ \t]|[ \t]$|^$/.test(paragraph)) return null;
    if (index > 0) lines.push('');
    let line = '';
    for (const word of paragraph.split(/(?<=[^ ]) (?=[^ ])/)) {
      if (line !== '' && indent + line.length + 1 + word.length > WIDTH) {
        lines.push(pad + line);
        line = word;
      } else line = line === '' ? word : `${line} ${word}`;
    }
    lines.push(pad + line);
  }
  return `${header}\n${lines.join('\n')}`;
}

/** A text in a literal block; null where its first line would be misread. */
function literal(value: string, indent: number): string | null {
  const { header, body } = chomp(value, '|');
  if (/^[ \t\n]|^$/.test(body) || /[ \t]$/m.test(body)) return null;
  const lines = body.split('\n').map((line) => (line === '' ? '' : ' '.repeat(indent) + line));
  return `${header}\n${lines.join('\n')}`;
}

/** The sign of a block with what is said of its last line break. */
function chomp(value: string, sign: '|' | '>'): { readonly header: string; readonly body: string } {
  const ends = value.endsWith('\n');
  return { header: ends ? sign : `${sign}-`, body: ends ? value.slice(0, -1) : value };
}
