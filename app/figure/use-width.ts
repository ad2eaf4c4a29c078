import { type RefCallback, useCallback, useState } from 'react';

/** Watches how wide an element is, in whole pixels; 0 until it is known. */
export function useWidth(): readonly [RefCallback<HTMLElement>, number] {
  const [width, setWidth] = useState(0);
  const watch = useCallback((element: HTMLElement | null) => {
    if (element === null) return;
    const observer = new ResizeObserver(([entry]) => {
      if (entry !== undefined) setWidth(Math.round(entry.contentRect.width));
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [watch, width];
}
