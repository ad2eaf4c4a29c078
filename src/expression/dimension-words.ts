import { nearestName } from '../problem/index.ts';
import {
  type Dimension,
  describeDimension,
  dimensionless,
  divideDimensions,
  formatDimension,
  sameDimension,
} from '../quantity/index.ts';
import type { Tree } from './tree.ts';

/** 'has the dimension of force (kg·m/s²)', 'has the dimension kg·m/s⁴', 'is dimensionless'. */
export function says(dimension: Dimension, has = 'has', is = 'is'): string {
  if (sameDimension(dimension, dimensionless)) return `${is} dimensionless`;
  return `${has} the dimension ${nameOf(dimension) === undefined ? '' : 'of '}${describeDimension(dimension)}`;
}

/** The usual name of a dimension, without its units. */
function nameOf(dimension: Dimension): string | undefined {
  const bare = formatDimension(dimension);
  const described = describeDimension(dimension);
  return described === bare || bare === '1' ? undefined : described.slice(0, -bare.length - 3);
}

/** A plain number beside a value with a dimension most likely lacks its unit; a unit may be meant as a symbol. */
export function adviseUnit(
  part: Tree,
  dimension: Dimension,
  other: Dimension,
  isSymbol: (name: string) => boolean,
): string | undefined {
  if (part.kind !== 'number') return undefined;
  if (part.unit !== undefined) {
    return isSymbol(part.unit) ? `If ${part.unit} is meant as the symbol, multiply by it with *.` : undefined;
  }
  if (!sameDimension(dimension, dimensionless)) return undefined;
  return `Does ${part.value} lack its unit? That of the other side is ${formatDimension(other)}.`;
}

/** What the value may lack: 'Divide by a mass (kg)?' */
export function adviseFactor(found: Dimension, wanted: Dimension): string | undefined {
  const divisor = divideDimensions(found, wanted);
  const factor = divideDimensions(wanted, found);
  const advice: readonly (readonly [string, Dimension])[] = [
    ['Divide by', divisor],
    ['Multiply by', factor],
  ];
  for (const [verb, dimension] of advice) {
    const name = nameOf(dimension);
    if (name === undefined || name.includes(' or ') || name.startsWith('inverse')) continue;
    return `${verb} ${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name} (${formatDimension(dimension)})?`;
  }
  return undefined;
}

/** 'Did you mean "m_c"?' One letter is near to every other, so of those only its other case counts. */
export function adviseName(name: string, known: Iterable<string>): string | undefined {
  const near = nearestName(name, known);
  if (near === undefined) return undefined;
  const short = [...name].length === 1 || [...near].length === 1;
  return short && near.toLowerCase() !== name.toLowerCase() ? undefined : `Did you mean "${near}"?`;
}

/** More symbols than these make a list that nobody reads. */
const mostListed = 16;

/** 'The symbols here are t, s and m.', where they are few. */
export function listNames(known: Iterable<string>): string | undefined {
  const names = [...new Set(known)];
  const last = names.pop();
  if (last === undefined || names.length >= mostListed) return undefined;
  return names.length === 0
    ? `The only symbol here is ${last}.`
    : `The symbols here are ${names.join(', ')} and ${last}.`;
}
