/** Lets pieces of work on the same thing follow each other, and others go on at the same time. */
export interface Turns {
  take<T>(what: string, work: () => Promise<T>): Promise<T>;
}

export function createTurns(): Turns {
  const last = new Map<string, Promise<unknown>>();
  return {
    take(what, work) {
      const before = last.get(what) ?? Promise.resolve();
      const mine = before.then(work, work);
      const ended = mine.then(
        () => undefined,
        () => undefined,
      );
      last.set(what, ended);
      void ended.then(() => {
        if (last.get(what) === ended) last.delete(what);
      });
      return mine;
    },
  };
}
