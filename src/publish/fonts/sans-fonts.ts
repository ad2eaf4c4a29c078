import { sansBold } from './sans-bold.ts';
import { sansItalic } from './sans-italic.ts';
import { sansRegular } from './sans-regular.ts';

/** The family that figures and slides are set in, wherever a font can be embedded. */
export const sansFamily = 'Benchwright Sans';

/** The three faces of the family as TrueType files. */
export function sansFonts(): readonly Uint8Array[] {
  return [sansRegular, sansItalic, sansBold].map((face) =>
    Uint8Array.from(atob(face), (character) => character.charCodeAt(0)),
  );
}
