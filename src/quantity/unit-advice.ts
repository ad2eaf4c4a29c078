import { nearestName } from '../problem/index.ts';
import { prefixes } from './prefix-table.ts';
import { findSymbol, listKnownSymbols } from './unit-lookup.ts';
import { unitTable } from './unit-table.ts';

/** Spellings that people use for units that have another symbol, or that this program does not read on purpose. */
const misspellings: ReadonlyMap<string, string> = new Map([
  ['sec', 'Write s.'],
  ['secs', 'Write s.'],
  ['msec', 'Write ms.'],
  ['usec', 'Write µs.'],
  ['hr', 'Write h.'],
  ['hrs', 'Write h.'],
  ['mins', 'Write min.'],
  ['gm', 'Write g.'],
  ['gms', 'Write g.'],
  ['kgs', 'Write kg.'],
  ['amp', 'Write A.'],
  ['amps', 'Write A.'],
  ['cc', 'Write cm^3 or mL.'],
  ['ccm', 'Write cm^3 or mL.'],
  ['sqm', 'Write m^2.'],
  ['Nm', 'Write N·m or "N m".'],
  ['Ns', 'Write N·s or "N s".'],
  ['Js', 'Write J·s or "J s".'],
  ['As', 'Write A·s or "A s".'],
  ['Vs', 'Write V·s or "V s".'],
  ['Ws', 'Write W·s or "W s".'],
  ['kph', 'Write km/h.'],
  ['kmh', 'Write km/h.'],
  ['mph', 'Write km/h: 1 mile per hour is 1.609344 km/h.'],
  ['fps', 'Write Hz for frames per second, ft/s for feet per second.'],
  ['bpm', 'Write 1/min.'],
  ['per', 'Write / for "per".'],
  ['kgf', 'A spring scale that shows kilograms: write N, 1 kgf is 9.80665 N.'],
  ['kp', 'Write N, 1 kp is 9.80665 N.'],
  ['lb', 'Write kg, 1 lb is 0.45359237 kg.'],
  ['lbs', 'Write kg, 1 lb is 0.45359237 kg.'],
  ['oz', 'Write g, 1 oz is 28.349523125 g.'],
  ['psi', 'Write kPa, 1 psi is 6.894757 kPa.'],
  ['cal', 'Write J, the thermochemical calorie is 4.184 J.'],
  ['kcal', 'Write kJ, the thermochemical kilocalorie is 4.184 kJ.'],
  ['G', 'Write mT: a gauss is 0.1 mT. For gram write g.'],
  ['ppb', 'Write 1e-9: a billion is not the same in every language.'],
  ['dB', 'Write the ratio itself: a level in decibel cannot be multiplied or added like other quantities.'],
  ['year', 'Write d, a Julian year is 365.25 d.'],
  ['month', 'Write d.'],
  ['week', 'Write d.'],
]);

/** What to try instead of a symbol that is not known, as a sentence; undefined where nothing is near. */
export function adviseSymbol(symbol: string): string | undefined {
  const misspelling = misspellings.get(symbol);
  if (misspelling !== undefined) return misspelling;
  const otherCase = Array.from(listKnownSymbols()).filter(
    (known) => known.toLowerCase() === symbol.toLowerCase(),
  );
  if (otherCase.length > 0) return `Did you mean ${otherCase.slice(0, 3).join(' or ')}? Capitals count.`;
  return (
    adviseWithoutPrefix(symbol) ?? adviseSymbolForName(symbol) ?? adviseSplit(symbol) ?? adviseNearest(symbol)
  );
}

/** `kmin`: a known unit that bears no prefix, or not this one. */
function adviseWithoutPrefix(symbol: string): string | undefined {
  for (const prefix of prefixes) {
    if (!symbol.startsWith(prefix.symbol)) continue;
    const rest = symbol.slice(prefix.symbol.length);
    const known = findSymbol(rest);
    if (known === undefined || rest.length < 2 || known.entry.prefixes === 'all') continue;
    return `The ${known.entry.name} (${rest}) does not take the prefix ${prefix.name}: write ${rest}, and the power of ten in the number.`;
  }
  return undefined;
}

/** `millimetres`: a name written out. */
function adviseSymbolForName(symbol: string): string | undefined {
  const word = symbol
    .toLowerCase()
    .replace(/s$/, '')
    .replace(/meter$/, 'metre')
    .replace(/liter$/, 'litre');
  for (const entry of unitTable) {
    if (word === entry.name.replace(/s$/, '')) return `Write ${entry.symbol}.`;
    for (const prefix of prefixes) {
      const known = findSymbol(prefix.symbol + entry.symbol);
      if (known?.entry === entry && word === prefix.name + entry.name.replace(/s$/, ''))
        return `Write ${known.printed}.`;
    }
  }
  return undefined;
}

/** `Nm`: two known symbols run together. */
function adviseSplit(symbol: string): string | undefined {
  const characters = Array.from(symbol);
  for (let cut = characters.length - 1; cut > 0; cut -= 1) {
    const [left, right] = [characters.slice(0, cut).join(''), characters.slice(cut).join('')];
    if (findSymbol(left) !== undefined && findSymbol(right) !== undefined)
      return `Write ${left}·${right} or "${left} ${right}": a product needs a dot or a space.`;
  }
  return undefined;
}

/** In symbols of one or two letters every other symbol is near; advice would be a guess. */
function adviseNearest(symbol: string): string | undefined {
  if (symbol.length < 3) return undefined;
  const nearest = nearestName(symbol, listKnownSymbols());
  return nearest === undefined ? undefined : `Did you mean ${nearest}?`;
}
