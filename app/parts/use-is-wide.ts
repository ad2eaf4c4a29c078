import { useSyncExternalStore } from 'react';

/** As in the style sheets: from this width on, something stands beside the work. */
const wide = matchMedia('(min-width: 1200px)');

/** Whether there is room beside the work. */
export function useIsWide(): boolean {
  return useSyncExternalStore(listen, () => wide.matches);
}

function listen(listener: () => void): () => void {
  wide.addEventListener('change', listener);
  return () => wide.removeEventListener('change', listener);
}
