import {
  fail,
  type Origin,
  type Outcome,
  type Place,
  type Problem,
  problem,
  succeed,
} from '../problem/index.ts';
import { formatExponent } from './dimension.ts';
import { readSuperscript } from './superscript.ts';
import { type Factor, factorOne, finishUnit, multiplyFactors, raiseFactor, type Unit } from './unit.ts';
import { adviseSymbol } from './unit-advice.ts';
import { findSymbol } from './unit-lookup.ts';
import { cutUnit, type UnitToken } from './unit-tokens.ts';

/** Longer than any unit that a person writes; bounds the work that a stranger's file can ask for. */
const longestText = 200;

/** Larger exponents than any physical unit has; bounds the factor. */
const largestExponent = 20;

/** What a part of a unit means, and how it is printed. */
interface Part {
  readonly factor: Factor;
  readonly printed: string;
}

/** A unit that was read, and its printed form: `kg m^2` prints as `kg·m²`. */
export interface ReadUnit {
  readonly unit: Unit;
  readonly printed: string;
}

/**
 * Reads a unit as people write it: `m/s^2`, `N·m`, `kg m^2`, `J/(kg K)`, `µm`, `kohm`, `degC`, `1/s`, `m s⁻²`,
 * `V/Hz^0.5`, `percent`; the empty text and `1` are the unit of a plain number.
 *
 * A product is a dot, a star or a space. After a slash a further product needs brackets, because J/kg K is read
 * both ways (SI Brochure, 9th edition, 5.4.6); m/s/s is read from left to right.
 *
 * @param origin where the text stands; without it a problem's place has only the column in the text
 * @returns the unit, or every problem found: `unknown-unit`, `ambiguous-unit`, `unit-syntax`, `unit-out-of-range`
 */
export function parseUnit(text: string, origin?: Origin): Outcome<Unit> {
  const outcome = readUnit(text, origin);
  return outcome.ok ? succeed(outcome.value.unit) : outcome;
}

/** As `parseUnit`, with the printed form. */
export function readUnit(text: string, origin?: Origin): Outcome<ReadUnit> {
  const placeAt = (offset: number): Place => origin?.placeAt(offset) ?? { column: offset + 1 };
  if (text.length > longestText)
    return fail(
      problem(
        'unit-syntax',
        placeAt(0),
        `This unit is ${text.length} characters long; a unit has at most ${longestText}.`,
      ),
    );
  const reader = new UnitReader(text, placeAt);
  const part = reader.readAll();
  if (reader.problems.length > 0) return fail(...reader.problems);
  const unit = finishUnit(text.trim(), part.factor);
  if (!Number.isFinite(unit.factor) || unit.factor <= 0)
    return fail(
      problem(
        'unit-out-of-range',
        placeAt(0),
        `The unit "${text.trim()}" is too large or too small to compute with: its size in SI units is ${part.factor.mantissa / part.factor.divisor}e${part.factor.decade}.`,
      ),
    );
  return succeed({ unit, printed: part.printed });
}

/** Recursive descent over the tokens; collects problems and goes on, so that two mistakes give two messages. */
class UnitReader {
  readonly problems: Problem[] = [];
  private readonly text: string;
  private readonly placeAt: (offset: number) => Place;
  private readonly tokens: readonly UnitToken[];
  private next = 0;

  constructor(text: string, placeAt: (offset: number) => Place) {
    this.text = text;
    this.placeAt = placeAt;
    this.tokens = cutUnit(text);
  }

  readAll(): Part {
    if (this.tokens.length === 0) return { factor: factorOne, printed: '' };
    let part = this.readProduct();
    while (this.next < this.tokens.length) {
      const stray = this.tokens[this.next];
      this.next += 1;
      this.complain(
        stray,
        stray.kind === 'close'
          ? `A closing bracket without an opening one in the unit "${this.text.trim()}".`
          : `"${stray.text}" cannot stand in the unit "${this.text.trim()}".`,
      );
      if (this.startsFactor()) part = this.readProduct();
    }
    return part.printed === '1' ? { factor: part.factor, printed: '' } : part;
  }

  private readProduct(): Part {
    let part = this.readPower();
    /** What stands before and after the last slash, in print. */
    let slash: { above: string; below: string } | undefined;
    for (;;) {
      const token = this.tokens.at(this.next);
      if (token?.kind === 'over') {
        this.next += 1;
        const divisor = this.readPower();
        slash = { above: part.printed, below: divisor.printed };
        part = {
          factor: multiplyFactors(part.factor, raiseFactor(divisor.factor, -1)),
          printed: `${part.printed}/${divisor.printed}`,
        };
      } else if (token !== undefined && (token.kind === 'times' || this.startsFactor())) {
        if (token.kind === 'times') this.next += 1;
        const second = this.readPower();
        if (slash !== undefined) this.complainOfAmbiguity(token, slash, second);
        part = {
          factor: multiplyFactors(part.factor, second.factor),
          printed: part.printed === '1' ? second.printed : `${part.printed}·${second.printed}`,
        };
      } else return part;
    }
  }

  /** One symbol, the number 1, or a bracket, with its exponent. */
  private readPower(): Part {
    const base = this.readBase();
    const exponent = this.readExponent();
    if (exponent === undefined) return base;
    return {
      factor: raiseFactor(base.factor, exponent),
      printed: base.printed + formatExponent(exponent),
    };
  }

  private readBase(): Part {
    const nothing: Part = { factor: factorOne, printed: '1' };
    const token = this.tokens.at(this.next);
    if (token === undefined || !this.startsFactor()) {
      const before = this.tokens.at(this.next - 1);
      const offset = token?.start ?? this.text.trimEnd().length;
      const where = this.next === 0 || before === undefined ? 'at the start' : `after "${before.text}"`;
      const hint = this.next === 0 && token?.kind === 'over' ? 'Write 1/… for an inverse unit.' : undefined;
      this.problems.push(
        problem(
          'unit-syntax',
          this.placeAt(offset),
          `The unit "${this.text.trim()}" lacks a symbol ${where}.`,
          hint,
        ),
      );
      if (token?.kind === 'strange') this.next += 1;
      return nothing;
    }
    this.next += 1;
    if (token.kind === 'open') return this.readBracket(token);
    if (token.kind === 'number') {
      if (token.text !== '1')
        this.complain(
          token,
          `The number ${token.text} stands in the unit "${this.text.trim()}"; a unit holds no number but 1.`,
          'Put it into the value.',
        );
      return nothing;
    }
    return this.readSymbol(token);
  }

  private readBracket(open: UnitToken): Part {
    const inner = this.readProduct();
    if (this.tokens.at(this.next)?.kind === 'close') this.next += 1;
    else this.complain(open, `The bracket is not closed in the unit "${this.text.trim()}".`);
    return { factor: inner.factor, printed: `(${inner.printed})` };
  }

  private readSymbol(token: UnitToken): Part {
    const following = this.tokens.at(this.next);
    if (
      (token.text === '°' || token.text === 'deg') &&
      (following?.text === 'C' || following?.text === 'F')
    ) {
      this.next += 1;
      this.complain(
        token,
        `"${token.text} ${following.text}" would be an angle times ${following.text === 'C' ? 'a coulomb' : 'a farad'}.`,
        `For a temperature write °${following.text} or deg${following.text}, without a space.`,
      );
      return { factor: factorOne, printed: token.text };
    }
    const known = findSymbol(token.text);
    if (known !== undefined) return { factor: known.factor, printed: known.printed };
    this.problems.push(
      problem(
        'unknown-unit',
        this.placeAt(token.start),
        `"${token.text}" is not a unit known here.`,
        adviseSymbol(token.text),
      ),
    );
    return { factor: factorOne, printed: token.text };
  }

  /** `^2`, `**-1`, `^0.5`, `^(1/2)`, `²`, and the digits of `m2` or `s-1` where superscripts were lost. */
  private readExponent(): number | undefined {
    const token = this.tokens.at(this.next);
    if (token === undefined) return undefined;
    if (token.kind === 'superscript') {
      this.next += 1;
      return this.boundExponent(token, readSuperscript(token.text));
    }
    if (token.kind === 'power') {
      this.next += 1;
      return this.boundExponent(token, this.readWrittenExponent(token));
    }
    const behindSymbol = this.tokens.at(this.next - 1)?.kind === 'symbol' && !token.spaced;
    const digits = token.kind === 'minus' ? this.tokens.at(this.next + 1) : token;
    if (!behindSymbol || digits?.kind !== 'number' || (digits !== token && digits.spaced)) return undefined;
    this.next += digits === token ? 1 : 2;
    return this.boundExponent(token, Number(digits.text) * (digits === token ? 1 : -1));
  }

  private readWrittenExponent(power: UnitToken): number {
    const bracket = this.tokens.at(this.next)?.kind === 'open';
    if (bracket) this.next += 1;
    const negative = this.tokens.at(this.next)?.kind === 'minus';
    if (negative) this.next += 1;
    const number = this.tokens.at(this.next);
    if (number?.kind !== 'number') {
      this.complain(power, `A number must follow "${power.text}" in the unit "${this.text.trim()}".`);
      return 1;
    }
    this.next += 1;
    let exponent = Number(number.text);
    if (bracket) {
      if (this.tokens.at(this.next)?.kind === 'over') {
        const under = this.tokens.at(this.next + 1);
        if (under?.kind === 'number' && Number(under.text) !== 0) exponent /= Number(under.text);
        else this.complain(power, `The exponent in the unit "${this.text.trim()}" is not a number.`);
        this.next += under?.kind === 'number' ? 2 : 1;
      }
      if (this.tokens.at(this.next)?.kind === 'close') this.next += 1;
      else this.complain(power, `The bracket of the exponent is not closed in "${this.text.trim()}".`);
    }
    return negative ? -exponent : exponent;
  }

  private boundExponent(token: UnitToken, exponent: number): number {
    if (Math.abs(exponent) <= largestExponent) return exponent;
    this.complain(
      token,
      `The exponent ${exponent} is larger than any unit has (at most ${largestExponent}).`,
    );
    return 1;
  }

  private startsFactor(): boolean {
    const kind = this.tokens.at(this.next)?.kind;
    return kind === 'symbol' || kind === 'number' || kind === 'open';
  }

  private complain(token: UnitToken, message: string, tryThis?: string): void {
    this.problems.push(problem('unit-syntax', this.placeAt(token.start), message, tryThis));
  }

  private complainOfAmbiguity(
    token: UnitToken,
    { above, below }: { above: string; below: string },
    second: Part,
  ): void {
    this.problems.push(
      problem(
        'ambiguous-unit',
        this.placeAt(token.start),
        `The unit "${this.text.trim()}" can be read in two ways after the slash.`,
        `Write ${above}/(${below}·${second.printed}) or ${above}·${second.printed}/${below}.`,
      ),
    );
  }
}
