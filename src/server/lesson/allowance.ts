/** How often something may be done by each of many. */
export interface Allowance {
  /** Takes one; 0 where it may, else the seconds until it may. */
  take(who: string): number;
  /** Seconds until one may be taken; takes none. */
  wait(who: string): number;
}

/** Beyond so many askers those that are full again are forgotten. */
const MOST_ASKERS = 4096;

/**
 * A store of tokens for each asker that fills again with time.
 *
 * @param most     tokens at first, and at most
 * @param everyS   seconds after which there is another one
 * @param now      milliseconds
 * Source: Turner, "New directions in communications", IEEE Commun. Mag. 24(10), 1986 (the leaky bucket)
 */
export function createAllowance(most: number, everyS: number, now: () => number = Date.now): Allowance {
  const askers = new Map<string, { tokens: number; at: number }>();
  const look = (who: string) => {
    const at = now();
    const before = askers.get(who) ?? { tokens: most, at };
    const tokens = Math.min(most, before.tokens + Math.max(at - before.at, 0) / (1000 * everyS));
    return { tokens, at };
  };
  const missing = (tokens: number) => (tokens >= 1 ? 0 : Math.max(Math.ceil((1 - tokens) * everyS), 1));
  return {
    wait: (who) => missing(look(who).tokens),
    take(who) {
      const { tokens, at } = look(who);
      const wait = missing(tokens);
      askers.set(who, { tokens: wait === 0 ? tokens - 1 : tokens, at });
      if (askers.size > MOST_ASKERS)
        for (const name of askers.keys()) if (look(name).tokens >= most) askers.delete(name);
      return wait;
    },
  };
}
