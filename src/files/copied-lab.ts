import { isMap, isScalar, isSeq, type Pair, parseDocument } from 'yaml';

/** A stretch of text that is replaced, by offsets. */
interface Edit {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/**
 * The text of a lab file made ready for a new lab: another title and no trials, everything else byte for byte.
 *
 * The first trial stays as a comment, to show how one is written. A line above says which lab this one was made from,
 * as its licence asks for.
 *
 * @param text  of a lab file that has been read without problems
 * @param title of the new lab
 * @param from  what the new lab was made from, in words
 */
export function adaptLabText(text: string, title: string, from: string): string {
  const document = parseDocument(text);
  const edits: Edit[] = [{ from: 0, to: 0, text: `# Made from ${from}.\n` }];
  if (isMap(document.contents)) {
    for (const pair of document.contents.items) {
      if (isScalar(pair.key) && pair.key.value === 'title') edits.push(...replaceTitle(pair, title));
      if (isScalar(pair.key) && pair.key.value === 'trials') edits.push(...emptyTrials(pair, text));
    }
  }
  return edits
    .sort((a, b) => b.from - a.from)
    .reduce((edited, edit) => edited.slice(0, edit.from) + edit.text + edited.slice(edit.to), text);
}

function replaceTitle({ value }: Pair, title: string): Edit[] {
  if (!isScalar(value) || !value.range) return [];
  const [from, to] = value.range;
  // A block scalar ends with its line break.
  const ending = value.type === 'BLOCK_FOLDED' || value.type === 'BLOCK_LITERAL' ? '\n' : '';
  return [{ from, to, text: asYaml(title) + ending }];
}

/** A title of plain words stands as it is; whatever YAML could take for something else, in quotes. */
function asYaml(title: string): string {
  const isPlain = /^\p{L}[\p{L}\p{N} ]*$/u.test(title) && !/^(true|false|null|yes|no|on|off)$/i.test(title);
  return isPlain ? title : JSON.stringify(title);
}

function emptyTrials({ key, value }: Pair, text: string): Edit[] {
  if (!isScalar(key) || !key.range || !isSeq(value) || !value.range) return [];
  const end = value.range[1];
  const trailing = /\s*$/.exec(text.slice(0, end))?.[0] ?? '';
  const [first] = value.items;
  const example = isMap(first) || isScalar(first) ? sourceOf(first.range, text) : '';
  const comment = example
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map((line, index) => `\n  # ${index === 0 ? '- ' : ''}${index === 0 ? line : line.replace(/^ {4}/, '')}`)
    .join('');
  return [
    {
      from: key.range[1],
      to: end - trailing.length,
      text: `: []${comment === '' ? '' : `  # such as${comment}`}`,
    },
  ];
}

function sourceOf(range: readonly [number, number, number] | null | undefined, text: string): string {
  return range ? text.slice(range[0], range[1]).trimEnd() : '';
}
