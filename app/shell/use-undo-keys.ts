import { useEffect } from 'react';
import { useBench } from '../bench/use-bench.tsx';

/** Undo and redo by their usual keys, everywhere but in a field that holds what the lab does not have yet. */
export function useUndoKeys(): void {
  const bench = useBench();
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      const isZ = event.key.toLowerCase() === 'z';
      const isY = event.key.toLowerCase() === 'y' && !event.shiftKey;
      if (!(event.ctrlKey || event.metaKey) || event.altKey || !(isZ || isY)) return;
      if (event.defaultPrevented || holdsDraft(event.target)) return;
      event.preventDefault();
      if (isY || event.shiftKey) bench.redo();
      else bench.undo();
    };
    addEventListener('keydown', onKeyDown);
    return () => removeEventListener('keydown', onKeyDown);
  }, [bench]);
}

function holdsDraft(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.dataset.draft === 'true';
}
