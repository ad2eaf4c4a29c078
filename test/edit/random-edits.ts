import fc from 'fast-check';
import type { EditPlace, LabEdit, PlainValue } from '../../src/edit/index.ts';

/** Texts that YAML could take for something else, and texts as people write them. */
const words = fc.oneof(
  fc.constantFrom(
    '1.25 m',
    '0.3e-6 kg m^2',
    'x > 0.2 m and x < 0.9*L',
    'say "yes": no',
    "it's",
    '# no comment',
    'a #b',
    'a, b',
    '[not, a, list]',
    '{ neither: map }',
    '- dash',
    '',
    ' blank ',
    'true',
    'null',
    '~',
    'yes',
    '12',
    '1e3',
    '0x1f',
    '.nan',
    '&anchor',
    '*alias',
    '!tag',
    '%x',
    '@at',
    '`tick',
    '? q',
    ': c',
    'ends:',
    'two\nlines\n',
    'three\n\nlines',
    'a line that goes on and on '.repeat(9).trim(),
    'μ = 3 µm · é 😀',
    '<script>alert(1)</script>',
    '\u0000\u0007\u0085\u2028',
    'tab\there',
    'trailing \nblank',
  ),
  fc.string({ maxLength: 12 }),
  fc.string({ unit: 'grapheme', maxLength: 8 }),
);

const keys = fc.oneof(
  fc.constantFrom(
    'is',
    'value',
    'u',
    'name',
    'set aside',
    'with space',
    'y',
    '7',
    'a: b',
    'x"y',
    '#h',
    '',
    '__proto__',
  ),
  fc.string({ maxLength: 8 }),
);

export const plainValues: fc.Arbitrary<PlainValue> = fc.letrec<{ value: PlainValue }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 2, withCrossShrink: true },
    words,
    fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => (Object.is(value, -0) ? 0 : value)),
    fc.boolean(),
    fc.constant(null),
    fc.array(tie('value'), { maxLength: 3 }),
    fc.dictionary(keys, tie('value'), { maxKeys: 3 }),
  ),
})).value;

/** Every place of some data, with what stands there. */
function placesOf(
  data: PlainValue,
  at: EditPlace = [],
): readonly { readonly at: EditPlace; readonly value: PlainValue }[] {
  const own = { at, value: data };
  if (typeof data !== 'object' || data === null) return [own];
  const inner = Array.isArray(data)
    ? data.flatMap((item: PlainValue, index) => placesOf(item, [...at, index]))
    : Object.entries(data).flatMap(([key, value]: [string, PlainValue]) => placesOf(value, [...at, key]));
  return [own, ...inner];
}

function sizeOf(value: PlainValue): number {
  return typeof value === 'object' && value !== null ? Object.keys(value).length : 0;
}

/** An edit that makes sense for some data. */
export function editsOf(data: PlainValue): fc.Arbitrary<LabEdit> {
  const places = placesOf(data);
  const below = places.filter(({ at }) => at.length > 0);
  const inMaps = below.filter(({ at }) => typeof at[at.length - 1] === 'string');
  const collections = places.filter(({ value }) => sizeOf(value) > 0);
  const parentSize = (at: EditPlace): number =>
    sizeOf(places.find(({ at: own }) => own.join('\0') === at.slice(0, -1).join('\0'))?.value ?? null);
  const set = fc.record({ place: fc.constantFrom(...below), to: plainValues });
  return fc.oneof(
    set.map(({ place, to }): LabEdit => ({ kind: 'set', at: place.at, to })),
    fc.constantFrom(...below).map(({ at }): LabEdit => ({ kind: 'remove', at })),
    fc
      .record({ place: fc.constantFrom(...inMaps), to: keys })
      .map(({ place, to }): LabEdit => ({ kind: 'rename', at: place.at, to })),
    fc
      .record({ place: fc.constantFrom(...collections), key: keys, value: plainValues, share: fc.nat(1000) })
      .map(({ place, key, value, share }): LabEdit => {
        const index = share % (sizeOf(place.value) + 1);
        return Array.isArray(place.value)
          ? { kind: 'insert', at: place.at, index, value }
          : { kind: 'insert', at: place.at, key, index, value };
      }),
    fc
      .record({ place: fc.constantFrom(...below), share: fc.nat(1000) })
      .map(
        ({ place, share }): LabEdit => ({ kind: 'move', at: place.at, index: share % parentSize(place.at) }),
      ),
  );
}
