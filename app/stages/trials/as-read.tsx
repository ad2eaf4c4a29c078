import type { LabEdit, PlainValue } from '../../../src/edit/index.ts';
import { recordAt, textAt } from '../../bench/plain.ts';
import { DraftField } from '../../parts/draft-field.tsx';
import { Help } from '../../parts/help.tsx';
import { describeKey } from '../../parts/schema-help.ts';

/** What the lab file can tell of a file instead of letting it be detected; numbers are written as numbers. */
const TOLD = [
  { key: 'delimiter', says: 'between columns', example: 'detected; , ; tab space', isNumber: false },
  { key: 'decimal mark', says: 'decimal mark', example: 'detected; . or ,', isNumber: false },
  { key: 'encoding', says: 'encoding', example: 'detected; windows-1252', isNumber: false },
  { key: 'header rows', says: 'lines of heading', example: 'detected', isNumber: true },
  { key: 'first row', says: 'line of the first reading', example: 'detected', isNumber: true },
  { key: 'last row', says: 'line of the last reading', example: 'the last', isNumber: true },
] as const;

/** Overrules for a file that was not taken for what it is, and units that it does not name. */
export function AsRead({
  index,
  name,
  form,
  headings,
}: {
  readonly index: number;
  readonly name: string;
  readonly form: unknown;
  readonly headings: readonly string[];
}) {
  const told = recordAt(form, ['as read']);
  const units = recordAt(told, ['units']);
  const at = ['trials', index, 'as read'];
  const takeOut = (path: readonly (string | number)[], isOnly: boolean): LabEdit => ({
    kind: 'remove',
    at: isOnly ? path.slice(0, -1) : path,
  });
  return (
    <fieldset className="as-read">
      <legend className="said">
        Told instead of detected <Help about="what is told">{describeKey(['trials', 'as read'])}</Help>
      </legend>
      {TOLD.map(({ key, says, example, isNumber }) => (
        <DraftField
          key={key}
          label={says}
          written={textAt(told, [key]) ?? ''}
          at={[...at, key]}
          what={`${says} of ${name}`}
          holdsBack
          placeholder={example}
          toEdits={(text) => [
            text.trim() === ''
              ? takeOut([...at, key], Object.keys(told).length === 1)
              : { kind: 'set', at: [...at, key], to: plainOf(text, isNumber) },
          ]}
        />
      ))}
      {[...new Set(headings.filter((heading) => heading !== ''))].map((heading) => (
        <DraftField
          key={heading}
          label={`unit of “${heading}”`}
          written={textAt(units, [heading]) ?? ''}
          at={[...at, 'units', heading]}
          what={`unit of “${heading}”`}
          holdsBack
          placeholder="as the file names it"
          toEdits={(text) => [
            text.trim() === ''
              ? takeOut([...at, 'units', heading], Object.keys(units).length === 1)
              : { kind: 'set', at: [...at, 'units', heading], to: text.trim() },
          ]}
        />
      ))}
    </fieldset>
  );
}

function plainOf(text: string, isNumber: boolean): PlainValue {
  const bare = text.trim();
  return isNumber && /^\d{1,9}$/.test(bare) ? Number(bare) : bare;
}
