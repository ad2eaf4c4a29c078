import type { EditPlace, PlainValue } from '../../src/edit/index.ts';
import { plainAt } from '../bench/plain.ts';
import { takeOut } from '../bench/take-out.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { DraftField } from './draft-field.tsx';

export interface EntryFieldProps {
  readonly at: EditPlace;
  readonly label: string;
  /** As undo says it; the label where it is left out. */
  readonly what?: string;
  readonly hidesLabel?: boolean;
  /** 'of the wheel gate': behind the label for those who hear the screen. */
  readonly whose?: string;
  readonly placeholder?: string;
  readonly className?: string;
  readonly isProse?: boolean;
  readonly wraps?: boolean;
  /** Whether what cannot be right stays in the field: values and formulas, not prose. */
  readonly holdsBack?: boolean;
  /** How the entry is typed, and what the file has for what is typed: a text or a number where left out. */
  readonly form?: EntryForm;
  /** Where nothing is typed, the entry is taken out, and what would be left empty around it up to here. */
  readonly within?: EditPlace;
  /** Where an entry must be there, an empty field writes an empty text. */
  readonly isNeeded?: boolean;
}

/** How an entry of the file is typed. */
export interface EntryForm {
  show(value: unknown): string;
  read(text: string): PlainValue;
}

/** One entry of the lab file as a field: written as it is typed, taken out where the field is emptied. */
export function EntryField(props: EntryFieldProps) {
  const {
    at,
    label,
    what = label,
    form = asText,
    within,
    isNeeded = false,
    holdsBack = true,
    ...looks
  } = props;
  const bench = useBench();
  const written = useBenchState(({ reading }) => form.show(plainAt(reading.document?.data, at)));
  return (
    <DraftField
      {...looks}
      label={label}
      written={written}
      at={at}
      what={what}
      holdsBack={holdsBack}
      toEdits={(text) =>
        text.trim() === '' && !isNeeded
          ? [takeOut(bench.getState().reading.document?.data, at, within ?? at.slice(0, -1))]
          : [{ kind: 'set', at, to: form.read(text) }]
      }
    />
  );
}

function showPlain(value: unknown): string {
  return typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean'
    ? String(value)
    : '';
}

/** Texts, and values with their units. */
const asText: EntryForm = { show: showPlain, read: (text) => text };

/** What is no number stays as it was typed, so that the message tells what was found. */
export const asNumber: EntryForm = {
  show: showPlain,
  read: (text) => (text.trim() !== '' && Number.isFinite(Number(text)) ? Number(text) : text),
};

/** Several values in a row: at commas with a space behind them, for '0,9 m' is one value with a decimal comma. */
export const asList: EntryForm = {
  show: (value) => (Array.isArray(value) ? value.map(String).join(', ') : showPlain(value)),
  read: splitList,
};

/** Several names in a row; a single one stands alone. */
export const asNames: EntryForm = {
  show: asList.show,
  read(text) {
    const names = text.split(/[\s,;]+/).filter((name) => name !== '');
    return names.length === 1 ? (names[0] ?? '') : names;
  },
};

/** Symbols with what belongs to each: 'A = 1 V, tau = 2 s'. */
export const asPairs: EntryForm = {
  show: (value) =>
    typeof value === 'object' && value !== null && !Array.isArray(value)
      ? Object.entries(value)
          .map(([name, one]) => `${name} = ${String(one)}`)
          .join(', ')
      : showPlain(value),
  read(text) {
    const pairs = splitList(text).map((part) => part.split(/\s*=\s*/));
    return pairs.every(({ length }) => length === 2)
      ? Object.fromEntries(pairs.map(([name = '', value = '']) => [name, value]))
      : text;
  },
};

function splitList(text: string): readonly string[] {
  return text
    .split(/[,;]\s+|;/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
}
