import { writeCautions } from '../cautions/index.ts';
import type { Block } from '../document/index.ts';
import type { Desk } from './desk.ts';

/** The cautions of the lab that stands on the desk; see `writeCautions`. */
export function draftCautions(
  { lab, phrases, names, gathered }: Desk,
  readers: 'students' | 'staff',
): Extract<Block, { readonly kind: 'caution' }> {
  return writeCautions({ lab, phrases, extremes: gathered.extremes, words: names.words }, readers);
}
