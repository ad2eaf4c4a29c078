import type { Verdict } from '../../reconcile/index.ts';
import type { Style } from './page.ts';

/** The colour that goes with a verdict; the words always stand beside it. */
export function verdictStyle(verdict: Verdict): Style {
  switch (verdict) {
    case 'explained':
      return 'good';
    case 'doubtful':
      return 'doubtful';
    case 'unexplained':
      return 'bad';
    case 'unknown':
      return 'faint';
  }
}
