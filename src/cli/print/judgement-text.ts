import type { Judgement } from '../../adapt/index.ts';
import type { Style } from './page.ts';

/** How a judgement is coloured. */
export const JUDGEMENT_STYLE: Readonly<Record<Judgement['verdict'], Style>> = {
  'works well': 'good',
  'works with care': 'doubtful',
  'will disappoint': 'bad',
};
