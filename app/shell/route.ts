import { useSyncExternalStore } from 'react';

/** Where a person is: the shelf of labs, or a stage of one. */
export type Route =
  | { readonly kind: 'shelf' }
  | { readonly kind: 'lab'; readonly id: string; readonly stage: string };

const FIRST_STAGE = 'question';

function readRoute(path: string): Route {
  const [place, id, stage = FIRST_STAGE] = path.split('/').filter((part) => part !== '');
  if (place !== 'lab' || id === undefined) return { kind: 'shelf' };
  return { kind: 'lab', id: decodeURIComponent(id), stage };
}

export function addressOf(route: Route): string {
  return route.kind === 'shelf' ? '/' : `/lab/${encodeURIComponent(route.id)}/${route.stage}`;
}

const listeners = new Set<() => void>();

export function goTo(route: Route, how: 'push' | 'replace' = 'push'): void {
  const address = addressOf(route);
  if (address === location.pathname) return;
  if (how === 'push') history.pushState(null, '', address);
  else history.replaceState(null, '', address);
  for (const listener of listeners) listener();
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  addEventListener('popstate', listener);
  return () => {
    listeners.delete(listener);
    removeEventListener('popstate', listener);
  };
}

/** The address in the browser is the one truth of where a person is. */
export function useRoute(): Route {
  const path = useSyncExternalStore(subscribe, () => location.pathname);
  return readRoute(path);
}
