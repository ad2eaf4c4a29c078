import type { Expression } from '../expression/index.ts';
import { checkCondition, checkDimensions, isSymbol, namesIn, parseExpression } from '../expression/index.ts';
import { nearestName, problem } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import {
  type ColumnFormula,
  prepareColumnFormula,
  prepareRowCondition,
  prepareScalarFormula,
  type RowCondition,
  type ScalarFormula,
} from './formula.ts';
import { type NamesAllowed, type SortedNames, scopeOf, sortNames } from './names-at-hand.ts';
import { type NumberSetting, readNumber } from './number-setting.ts';
import { type SettingPath, SettingsForm } from './settings-form.ts';
import type { GivenSettings, InstrumentAtHand, ReductionContext, RowSet } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

/**
 * Reads the settings of one step and collects what is wrong with them.
 *
 * Each reading method gives null where the setting is absent or wrong; `hasProblem` then tells which.
 * Where an expression names something that an earlier step would have given, had it not had a problem itself,
 * the method gives null, `hasProblem` is true, and no further problem is told.
 */
export class SettingsReader extends SettingsForm {
  readonly context: ReductionContext;
  #restsOnFailure = false;

  constructor(
    step: string,
    specs: readonly StepSettingSpec[],
    given: GivenSettings,
    context: ReductionContext,
  ) {
    super(step, specs, given);
    this.context = context;
  }

  get hasProblem(): boolean {
    return this.problems.length > 0 || this.#restsOnFailure;
  }

  /** An instrument of one of the kinds that the step can work with. */
  instrument(name: string, kinds: readonly string[]): { name: string; instrument: InstrumentAtHand } | null {
    const written = this.words(name);
    if (written === null) return null;
    const { instruments } = this.context;
    const instrument = instruments.get(written);
    if (instrument === undefined) {
      const near = nearestName(written, instruments.keys());
      const known = [...instruments.keys()].join(', ');
      return this.tell(
        'unknown-instrument',
        name,
        `"${written}" is not an instrument of this lab.`,
        near === undefined ? `Its instruments are ${known || 'none'}.` : `Did you mean "${near}"?`,
      );
    }
    if (kinds.length > 0 && !kinds.includes(instrument.kind.kind)) {
      return this.tell(
        'wrong-instrument',
        name,
        `"${written}" is of the kind ${instrument.kind.kind}; "${this.step}" takes the readings of ${kinds.join(' or ')}.`,
      );
    }
    return { name: written, instrument };
  }

  /** An expression that holds at least one column, all of one set of rows. */
  columnFormula(name: string, expected?: { dimension: Dimension; what: string }): ColumnFormula | null {
    const expression = this.expression(name);
    if (expression === null) return null;
    const rows = this.rowsOf(name, expression);
    if (rows === null) return null;
    const dimension = this.take(
      checkDimensions(expression, scopeOf(this.context, { columns: true }), expected),
    );
    return dimension === null ? null : prepareColumnFormula(expression, dimension, rows, this.context);
  }

  scalarFormula(name: string): ScalarFormula | null {
    const expression = this.expression(name);
    if (expression === null) return null;
    if (this.sort(expression) === null) return null;
    const columns = [...namesIn(expression.tree)].filter((symbol) => this.context.columns.has(symbol));
    if (columns.length > 0) {
      return this.tell(
        'column-in-value',
        name,
        `"${expression.text}" holds the column ${columns[0]}; one value needs expressions of single values.`,
        'Take the mean or the peak of the column first.',
      );
    }
    const dimension = this.take(checkDimensions(expression, scopeOf(this.context, { columns: false })));
    return dimension === null ? null : prepareScalarFormula(expression, dimension, this.context);
  }

  condition(name: string): RowCondition | null {
    const expression = this.expression(name);
    if (expression === null) return null;
    const rows = this.rowsOf(name, expression);
    if (rows === null) return null;
    const checked = checkCondition(expression, scopeOf(this.context, { columns: true }));
    if (!checked.ok) {
      this.problems.push(...checked.problems);
      return null;
    }
    return prepareRowCondition(expression, rows, this.context);
  }

  /** A column by its name. */
  column(name: string): { name: string; dimension: Dimension; rows: RowSet } | null {
    const written = this.words(name);
    if (written === null) return null;
    const column = this.context.columns.get(written);
    if (column !== undefined) return { name: written, ...column };
    if (this.context.unsure.has(written)) {
      this.#restsOnFailure = true;
      return null;
    }
    const near = nearestName(written, this.context.columns.keys());
    const known = [...this.context.columns.keys()].join(', ');
    return this.tell(
      'unknown-column',
      name,
      `"${written}" is not a column here.`,
      near === undefined ? `The columns are ${known || 'none yet'}.` : `Did you mean "${near}"?`,
    );
  }

  /** The names that the step gives, checked to be free; null where a name is wrong or the setting absent. */
  newNames(name: string, least: number, most: number): readonly string[] | null {
    const written = this.given.values[name];
    if (written === undefined || written === null) return null;
    const names = Array.isArray(written) ? written : [written];
    if (names.length < least || names.length > most) {
      const count = least === most ? `${least}` : `${least} to ${most}`;
      return this.tell(
        'wrong-form',
        name,
        `"${name}" has ${names.length} names; "${this.step}" gives ${count}.`,
      );
    }
    const taken = new Set<string>();
    const found: string[] = [];
    names.forEach((each: unknown, index) => {
      const path = Array.isArray(written) ? [name, index] : [name];
      if (typeof each === 'string' && this.isUnused(each, path, taken)) found.push(each);
      else if (typeof each !== 'string') {
        this.problems.push(
          problem(
            'wrong-form',
            this.given.placeOf(path),
            `"${name}" holds ${JSON.stringify(each)}; a name must stand there.`,
          ),
        );
      }
    });
    return found.length === names.length ? found : null;
  }

  /** One new name. */
  newName(name: string): string | null {
    return this.newNames(name, 1, 1)?.[0] ?? null;
  }

  /** A number: fixed, or an expression of quantities. */
  number(name: string, expected: { dimension: Dimension; what: string } | null): NumberSetting | null {
    return this.numberAt([name], expected);
  }

  numberAt(path: SettingPath, expected: { dimension: Dimension; what: string } | null): NumberSetting | null {
    const written = this.at(path);
    if (written === undefined || written === null) return null;
    if (typeof written !== 'string' && typeof written !== 'number') {
      const message = `"${path.join('.')}" must be a number with its unit, or an expression of quantities.`;
      this.problems.push(problem('wrong-form', this.given.placeOf(path), message));
      return null;
    }
    return this.take(readNumber(String(written), this.given.originOf(path), this.context, expected));
  }

  /** The parsed expression of a setting, before any check of its names. */
  expression(name: string): Expression | null {
    if (!this.has(name)) return null;
    const written = this.given.values[name];
    if (typeof written !== 'string' && typeof written !== 'number') {
      return this.tell('wrong-form', name, `"${name}" must be an expression.`);
    }
    return this.take(parseExpression(String(written), this.given.originOf([name])));
  }

  /** The one set of rows that the columns of an expression are of. */
  rowsOf(name: string, expression: Expression, further?: ReadonlyMap<string, Dimension>): RowSet | null {
    const sorted = this.sort(expression, further);
    if (sorted === null) return null;
    if (sorted.rowSets.length === 1) return sorted.rowSets[0];
    if (sorted.rowSets.length > 1) {
      const [first, second] = sorted.rowSets;
      const member = (rows: RowSet) =>
        sorted.columns.find((column) => this.context.columns.get(column)?.rows === rows) ?? '';
      return this.tell(
        'unlike-rows',
        name,
        `${member(first)} is from ${first.words} and ${member(second)} from ${second.words}: their rows do not belong together.`,
      );
    }
    const check = checkDimensions(expression, scopeOf(this.context, allowing(further)));
    if (!check.ok && check.problems.some((found) => found.code.startsWith('unknown'))) {
      this.problems.push(...check.problems);
      return null;
    }
    const known = [...this.context.columns.keys()].join(', ');
    return this.tell(
      'no-column',
      name,
      `"${expression.text}" holds no column; "${name}" of "${this.step}" is worked out row by row.`,
      `The columns are ${known || 'none yet'}.`,
    );
  }

  /** Tells where two settings are about different sets of rows. */
  requireSameRows(
    name: string,
    rows: RowSet | undefined,
    otherName: string,
    otherRows: RowSet | undefined,
  ): void {
    if (rows === undefined || otherRows === undefined || rows === otherRows) return;
    const message = `"${name}" is from ${rows.words} and "${otherName}" from ${otherRows.words}: their rows do not belong together.`;
    this.tell('unlike-rows', otherName, message);
  }

  /** The names of an expression by what they are; null, without a word, where one rests on a failed step. */
  sort(expression: Expression, further?: ReadonlyMap<string, Dimension>): SortedNames | null {
    const names = namesIn(expression.tree);
    for (const symbol of names) {
      if (this.context.unsure.has(symbol) && !further?.has(symbol)) {
        this.#restsOnFailure = true;
        return null;
      }
    }
    return sortNames(names, this.context, allowing(further));
  }

  /** Whether a new name can be taken; a problem is told where not. */
  isUnused(name: string, path: SettingPath, taken: Set<string> = new Set()): boolean {
    const refuse = (code: string, message: string): false => {
      this.problems.push(problem(code, this.given.placeOf(path), message));
      return false;
    };
    if (!isSymbol(name)) {
      return refuse(
        'not-a-symbol',
        `"${name}" cannot be a name: letters, digits and _ make one, a letter first.`,
      );
    }
    const { context } = this;
    if (taken.has(name)) return refuse('name-taken', `${name} is given twice.`);
    if (context.columns.has(name))
      return refuse('name-taken', `${name} is a column already; choose another name.`);
    if (context.scalars.has(name))
      return refuse('name-taken', `${name} is given by an earlier step; choose another name.`);
    if (context.dimensionOfQuantity(name) !== undefined) {
      return refuse('name-taken', `${name} is a quantity of the lab; choose another name.`);
    }
    taken.add(name);
    return true;
  }
}

function allowing(further: ReadonlyMap<string, Dimension> | undefined): NamesAllowed {
  return further === undefined ? { columns: true } : { columns: true, further };
}
