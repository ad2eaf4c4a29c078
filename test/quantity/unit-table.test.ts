import { describe, expect, it } from 'vitest';
import { isKnownUnit, parseUnit, sameDimension } from '../../src/quantity/index.ts';
import { microSpellings, prefixes } from '../../src/quantity/prefix-table.ts';
import { unitTable } from '../../src/quantity/unit-table.ts';
import published from '../published/unit-factors.json' with { type: 'json' };
import { relativeDifference, unitNamed } from './support.ts';

describe('the table of units', () => {
  it.each(Object.entries(published.factors))(`%s is %d SI units (NIST SP 811)`, (symbol, factor) => {
    expect(relativeDifference(unitNamed(symbol).factor, factor)).toBeLessThan(3e-16);
  });

  it('a conventional millimetre of mercury is 133.3224 Pa (NIST SP 811, B.8, which prints 1.333 224 E+02)', () => {
    expect(unitNamed('mmHg').factor.toFixed(4)).toBe('133.3224');
  });

  // SI Brochure, 9th edition, Table 4: the expression in base units beside each name.
  it.each([
    ['N', 'kg m s^-2'],
    ['Pa', 'kg m^-1 s^-2'],
    ['J', 'kg m^2 s^-2'],
    ['W', 'kg m^2 s^-3'],
    ['C', 'A s'],
    ['V', 'kg m^2 s^-3 A^-1'],
    ['F', 'kg^-1 m^-2 s^4 A^2'],
    ['Ω', 'kg m^2 s^-3 A^-2'],
    ['S', 'kg^-1 m^-2 s^3 A^2'],
    ['Wb', 'kg m^2 s^-2 A^-1'],
    ['T', 'kg s^-2 A^-1'],
    ['H', 'kg m^2 s^-2 A^-2'],
    ['lm', 'cd sr'],
    ['lx', 'cd sr m^-2'],
    ['Bq', 's^-1'],
    ['Hz', 's^-1'],
    ['Gy', 'm^2 s^-2'],
    ['Sv', 'm^2 s^-2'],
    ['kat', 'mol s^-1'],
    ['rad', 'm/m'],
  ])('%s is %s (SI Brochure, Table 4)', (special, base) => {
    const [a, b] = [unitNamed(special), unitNamed(base)];
    expect(a.factor).toBe(b.factor);
    expect(sameDimension(a.dimension, b.dimension)).toBe(true);
  });

  // SI Brochure, 9th edition, Table 7.
  it.each([
    ['quecto', 'q', -30],
    ['ronto', 'r', -27],
    ['yocto', 'y', -24],
    ['zepto', 'z', -21],
    ['atto', 'a', -18],
    ['femto', 'f', -15],
    ['pico', 'p', -12],
    ['nano', 'n', -9],
    ['micro', 'µ', -6],
    ['milli', 'm', -3],
    ['centi', 'c', -2],
    ['deci', 'd', -1],
    ['deca', 'da', 1],
    ['hecto', 'h', 2],
    ['kilo', 'k', 3],
    ['mega', 'M', 6],
    ['giga', 'G', 9],
    ['tera', 'T', 12],
    ['peta', 'P', 15],
    ['exa', 'E', 18],
    ['zetta', 'Z', 21],
    ['yotta', 'Y', 24],
    ['ronna', 'R', 27],
    ['quetta', 'Q', 30],
  ])('%s (%s) is ten to the %d (SI Brochure, Table 7)', (_name, symbol, decade) => {
    for (const unit of ['m', 's', 'N', 'V', 'Hz', 'mol', 'L', 'eV']) {
      const plain = unitNamed(unit);
      const prefixed = unitNamed(symbol + unit);
      expect(relativeDifference(prefixed.factor, plain.factor * Number(`1e${decade}`))).toBeLessThan(3e-16);
      expect(prefixed.dimension).toEqual(plain.dimension);
    }
    // The gram is the one base unit whose name already holds a prefix in the SI.
    expect(unitNamed(`${symbol}g`).factor).toBe(Number(`1e${decade - 3}`));
  });

  it('a spelling means one thing: no prefix and unit spell another unit', () => {
    const plain = new Set(
      unitTable.flatMap((entry) => [entry.symbol, ...(entry.spellings ?? []), ...(entry.words ?? [])]),
    );
    const meanings = new Map<string, Set<string>>();
    const shadowed = new Set<string>();
    for (const entry of unitTable)
      for (const prefix of prefixes) {
        if (entry.prefixes === undefined) continue;
        if (entry.prefixes !== 'all' && !entry.prefixes.includes(prefix.symbol)) continue;
        for (const start of prefix.symbol === 'µ' ? microSpellings : [prefix.symbol])
          for (const spelling of [entry.symbol, ...(entry.spellings ?? [])]) {
            const symbol = start + spelling;
            if (plain.has(symbol)) shadowed.add(symbol);
            else meanings.set(symbol, (meanings.get(symbol) ?? new Set()).add(prefix.symbol + entry.symbol));
          }
      }
    expect(Array.from(meanings).filter(([, set]) => set.size > 1)).toEqual([]);
    expect(Array.from(shadowed).sort()).toEqual([]);
  });

  it('no table entry is spelled twice', () => {
    const all = unitTable.flatMap((entry) => [
      entry.symbol,
      ...(entry.spellings ?? []),
      ...(entry.words ?? []),
    ]);
    expect(all.length).toBe(new Set(all).size);
  });

  it.each([
    'kmin',
    'mh',
    'k%',
    'mrpm',
    'kdegree',
    'mmmHg',
    'katm',
    'cd2',
    'mdB',
    'klitre',
    'mppm',
    'kin',
    'µft',
  ])('%s is no unit: no prefix where none is usual', (nonsense) => {
    expect(isKnownUnit(nonsense)).toBe(false);
  });

  it.each([
    ['min', 60],
    ['cd', 1],
    ['ft', 0.3048],
    ['Pa', 1],
    ['kat', 1],
    ['h', 3600],
    ['d', 86400],
    ['mmol', 1e-3],
    ['dag', 1e-2],
    ['hPa', 100],
    ['mbar', 100],
    ['µs', 1e-6],
    ['us', 1e-6],
    ['μs', 1e-6],
    ['mL', 1e-6],
    ['ml', 1e-6],
    ['kWh', 3.6e6],
    ['mAh', 3.6],
    ['kohm', 1e3],
    ['MΩ', 1e6],
    ['ppm', 1e-6],
    ['rev', 2 * Math.PI],
    ['mT', 1e-3],
    ['dpt', 1],
  ])('%s is %d in SI units', (symbol, factor) => {
    const unit = parseUnit(symbol);
    expect(unit.ok && unit.value.factor).toBe(factor);
  });

  it('revolutions, degrees and rpm carry an angle; hertz and becquerel carry none', () => {
    expect(['rad', '°', 'arcmin', 'r', 'rpm', 'r/min', 'rad/s'].map((text) => unitNamed(text).angle)).toEqual(
      [1, 1, 1, 1, 1, 1, 1],
    );
    expect(['Hz', 'Bq', '1/s', 'N m', '%'].map((text) => unitNamed(text).angle)).toEqual([0, 0, 0, 0, 0]);
    expect(unitNamed('rpm').factor).toBe((2 * Math.PI) / 60);
    expect(relativeDifference(unitNamed('r/min').factor, unitNamed('rpm').factor)).toBeLessThan(3e-16);
  });
});
