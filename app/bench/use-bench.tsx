import { createContext, type ReactNode, useContext, useMemo, useSyncExternalStore } from 'react';
import type { LabSource } from '../compute/source.ts';
import { fileAddress } from '../link/server.ts';
import type { BenchState } from './bench-state.ts';
import type { BenchStore } from './bench-store.ts';

const BenchContext = createContext<BenchStore | null>(null);

export function BenchProvider({
  store,
  children,
}: {
  readonly store: BenchStore;
  readonly children: ReactNode;
}) {
  return <BenchContext value={store}>{children}</BenchContext>;
}

/** The lab on the bench: what edits it. */
export function useBench(): BenchStore {
  const store = useContext(BenchContext);
  if (store === null) throw new Error('There is no lab on the bench here.');
  return store;
}

/** What the screens show of the lab on the bench; a screen is drawn again when the part that it picks changes. */
export function useBenchState<T>(pick: (state: BenchState) => T): T {
  const store = useBench();
  return useSyncExternalStore(store.subscribe, () => pick(store.getState()));
}

/** The lab as the workers take it, with what is in the hand; null where it has never been readable. */
export function useLabSource(): LabSource | null {
  const id = useBenchState((state) => state.id);
  const text = useBenchState((state) => (state.lab === null ? null : state.labText));
  const files = useBenchState((state) => state.files);
  const live = useBenchState((state) => state.live);
  const without = useBenchState((state) => state.without);
  return useMemo(() => {
    if (text === null) return null;
    return {
      text,
      files: files
        .filter(({ path }) => path.startsWith('trials/'))
        .map(({ path, digest }) => ({ path, digest, from: { address: fileAddress(id, path) } })),
      settings: live === null ? [] : [[live.name, live.written] as const],
      without: [...without],
    };
  }, [id, text, files, live, without]);
}
