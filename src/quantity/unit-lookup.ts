import { microSpellings, prefixes } from './prefix-table.ts';
import type { Factor } from './unit.ts';
import { type UnitEntry, unitTable } from './unit-table.ts';

/** A symbol that stands for a unit, prefix included, and how it is printed. */
export interface KnownSymbol {
  readonly printed: string;
  readonly factor: Factor;
  readonly entry: UnitEntry;
}

/**
 * Every symbol that is read. Were a unit's own symbol also a prefix with a shorter unit, its own meaning would win; the
 * prefixes in the table are chosen so that no spelling has two meanings.
 */
const knownSymbols: ReadonlyMap<string, KnownSymbol> = listSymbols();

/** The unit behind one symbol, or undefined. Case counts: mW is not MW. */
export function findSymbol(symbol: string): KnownSymbol | undefined {
  return knownSymbols.get(symbol);
}

/** Whether the text is one known unit symbol, prefix included: `cm`, `µs`, `degree`; not a compound such as `m/s`. */
export function isKnownUnit(symbol: string): boolean {
  return knownSymbols.has(symbol);
}

/** Every symbol that is read, in the order of the table. */
export function listKnownSymbols(): Iterable<string> {
  return knownSymbols.keys();
}

function listSymbols(): Map<string, KnownSymbol> {
  const symbols = new Map<string, KnownSymbol>();
  for (const entry of unitTable) {
    for (const spelling of [entry.symbol, ...(entry.spellings ?? []), ...(entry.words ?? [])]) {
      symbols.set(spelling, { printed: entry.symbol, factor: factorOf(entry, 0), entry });
    }
  }
  for (const entry of unitTable) {
    for (const prefix of prefixes) {
      if (!bearsPrefix(entry, prefix.symbol)) continue;
      const prefixSpellings = prefix.symbol === 'µ' ? microSpellings : [prefix.symbol];
      for (const start of prefixSpellings) {
        for (const spelling of [entry.symbol, ...(entry.spellings ?? [])]) {
          const symbol = start + spelling;
          if (symbols.has(symbol)) continue;
          const printed = prefix.symbol + entry.symbol;
          symbols.set(symbol, { printed, factor: factorOf(entry, prefix.decade), entry });
        }
      }
    }
  }
  return symbols;
}

function bearsPrefix(entry: UnitEntry, prefix: string): boolean {
  if (entry.prefixes === undefined) return false;
  return entry.prefixes === 'all' || entry.prefixes.includes(prefix);
}

function factorOf(entry: UnitEntry, decade: number): Factor {
  return {
    mantissa: entry.mantissa ?? 1,
    divisor: entry.divisor ?? 1,
    decade: (entry.decade ?? 0) + decade,
    offset: entry.offset ?? 0,
    dimension: entry.dimension,
    angle: entry.angle ?? 0,
  };
}
