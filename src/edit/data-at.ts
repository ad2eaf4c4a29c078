import { type EditPlace, isPlainMap, type PlainValue } from './lab-edit.ts';

/** What a place holds; undefined where it is not there. */
export function dataAt(data: PlainValue, at: EditPlace): PlainValue | undefined {
  return at.reduce<PlainValue | undefined>((inner, part) => {
    if (Array.isArray(inner)) return inner[Number(part)];
    return isPlainMap(inner) && Object.hasOwn(inner, part) ? inner[part] : undefined;
  }, data);
}
