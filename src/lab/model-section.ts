import type { Expression } from '../expression/index.ts';
import { conditionMargin, parseExpression } from '../expression/index.ts';
import type { Model, NamedJump } from '../model/index.ts';
import { buildModel } from '../model/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Path } from './document.ts';
import type { LabForm, ModelForm } from './form.ts';
import { checkSymbol } from './identifiers.ts';
import type { InstrumentDraft } from './instrument-draft.ts';
import { type Relation, readRelation } from './relation-section.ts';
import type { Helpers, Surroundings } from './surroundings.ts';
import { symbolsBehind } from './symbols-behind.ts';

/** How the lab's phenomenon is computed: a motion in time, a relation without time, or nothing yet. */
export type LabModel =
  | {
      readonly kind: 'motion';
      readonly model: Model;
      readonly helpers: Helpers;
      /** Where the model stands in the lab file. */
      readonly place: Place;
      readonly holdsWhile: readonly { readonly name: string; readonly condition: Expression }[];
      readonly jumps: readonly NamedJump[];
      /** Every symbol that the model reads, its own states and helpers among them. */
      readonly reads: ReadonlySet<string>;
    }
  | {
      readonly kind: 'relation';
      readonly relation: Relation;
      readonly helpers: Helpers;
      readonly reads: ReadonlySet<string>;
    }
  | { readonly kind: 'none' };

/** Reads the model; the signals of the instruments become part of it, one after another in the drafts' order. */
export function readModel(
  form: LabForm,
  drafts: readonly InstrumentDraft[],
  around: Surroundings,
): Outcome<LabModel> {
  const helpers = readHelpers(form.where ?? {}, around);
  const { model } = form;
  if (model === undefined) return helpers.ok ? succeed({ kind: 'none' }) : helpers;
  if (!helpers.ok) return helpers;
  if (model.relation === undefined) return readMotion(model, helpers.value, drafts, around);
  const misplaced = (['start', 'rates', 'stops', 'lasts', 'holds while', 'jumps'] as const).filter(
    (key) => model[key] !== undefined,
  );
  if (misplaced.length > 0) {
    return fail(
      ...misplaced.map((key) =>
        problem(
          'relation-and-rates',
          around.document.placeOfKey(['model', key]),
          `"${key}" belongs to a model that evolves in time, and this model is a relation.`,
          'Keep either "relation" or "rates".',
        ),
      ),
    );
  }
  const relation = readRelation(model.relation, model.over ?? {}, helpers.value, drafts, around);
  if (!relation.ok) return relation;
  const { expression, output } = relation.value;
  const read = symbolsBehind([expression, ...signalsOf(drafts)], helpers.value);
  read.delete(output);
  return succeed(
    { kind: 'relation', relation: relation.value, helpers: helpers.value, reads: read },
    relation.warnings,
  );
}

function readHelpers(
  forms: Readonly<Record<string, string | number>>,
  around: Surroundings,
): Outcome<Helpers> {
  const problems: Problem[] = [];
  const helpers = new Map<string, Expression>();
  for (const [name, written] of Object.entries(forms)) {
    const path: Path = ['where', name];
    const place = around.document.placeOfKey(path);
    const bad = checkSymbol(name, place);
    if (bad !== null) problems.push(bad);
    if (around.quantities.byName.has(name)) {
      problems.push(
        problem(
          'symbol-twice',
          place,
          `${name} is already a quantity; a helper expression needs a symbol of its own.`,
        ),
      );
    }
    const parsed = parseExpression(String(written), around.document.originOf(path));
    if (parsed.ok) helpers.set(name, parsed.value);
    else problems.push(...parsed.problems);
  }
  return problems.length > 0 ? fail(...problems) : succeed(helpers);
}

function readMotion(
  form: ModelForm,
  helpers: Helpers,
  drafts: readonly InstrumentDraft[],
  around: Surroundings,
): Outcome<LabModel> {
  const { document, quantities, tables } = around;
  const problems: Problem[] = [];
  const collect = <T>(outcome: Outcome<T>): T | undefined => {
    if (outcome.ok) return outcome.value;
    problems.push(...outcome.problems);
    return undefined;
  };
  const start = form.start ?? {};
  const rates = form.rates ?? {};
  const modelPlace = document.placeOfKey(['model']);
  if (Object.keys(rates).length === 0) {
    return fail(
      problem(
        'model-without-rates',
        modelPlace,
        'The model has neither "rates" nor a "relation"; one of them says what happens.',
      ),
    );
  }
  for (const name of Object.keys(start)) {
    if (!Object.hasOwn(rates, name)) {
      problems.push(
        problem(
          'state-without-rate',
          document.placeOfKey(['model', 'start', name]),
          `${name} has a start value but no rate of change.`,
          `Add "${name}" to "rates".`,
        ),
      );
    }
  }
  const states: { name: string; start: Expression; rate: Expression }[] = [];
  for (const [name, written] of Object.entries(rates)) {
    const place = document.placeOfKey(['model', 'rates', name]);
    const bad = checkSymbol(name, place);
    if (bad !== null) problems.push(bad);
    if (quantities.byName.has(name) || helpers.has(name)) {
      problems.push(
        problem(
          'symbol-twice',
          place,
          `${name} is a state and also a ${helpers.has(name) ? 'helper expression' : 'quantity'}; give one of them another symbol.`,
        ),
      );
    }
    const startWritten = Object.hasOwn(start, name) ? start[name] : undefined;
    if (startWritten === undefined) {
      problems.push(
        problem(
          'state-without-start',
          place,
          `${name} has a rate but no start value.`,
          `Add "${name}" to "start".`,
        ),
      );
      continue;
    }
    const startValue = collect(
      parseExpression(String(startWritten), document.originOf(['model', 'start', name])),
    );
    const rate = collect(parseExpression(String(written), document.originOf(['model', 'rates', name])));
    if (startValue === undefined || rate === undefined) continue;
    states.push({ name, start: startValue, rate });
  }
  const conditions = (forms: Readonly<Record<string, string>> | undefined, key: string) =>
    Object.entries(forms ?? {}).flatMap(([name, written]) => {
      const condition = collect(parseExpression(written, document.originOf(['model', key, name])));
      return condition === undefined ? [] : [{ name, condition }];
    });
  const stops = conditions(form.stops, 'stops');
  const holdsWhile = conditions(form['holds while'], 'holds while');
  const jumps = Object.entries(form.jumps ?? {}).flatMap(([name, { when, sets }]) => {
    const path: Path = ['model', 'jumps', name];
    const condition = collect(parseExpression(when, document.originOf([...path, 'when'])));
    const values = Object.entries(sets).flatMap(([state, written]) => {
      const expression = collect(
        parseExpression(String(written), document.originOf([...path, 'sets', state])),
      );
      return expression === undefined ? [] : [{ name: state, expression }];
    });
    return condition === undefined ? [] : [{ name, condition, sets: values }];
  });
  const lasts =
    form.lasts === undefined
      ? undefined
      : collect(parseExpression(String(form.lasts), document.originOf(['model', 'lasts'])));
  if (stops.length === 0 && lasts === undefined && problems.length === 0) {
    problems.push(
      problem(
        'never-stops',
        modelPlace,
        'The model never stops: it has neither "stops" nor "lasts".',
        'Add a condition that ends the motion, or the time it lasts.',
      ),
    );
  }
  if (problems.length > 0) return fail(...problems);
  const model = buildModel({
    parameters: quantities.all.map(({ name, dimension }) => ({ name, dimension })),
    helpers: [...helpers].map(([name, expression]) => ({ name, expression })),
    states,
    stops,
    ...(lasts === undefined ? {} : { lasts }),
    holdsWhile,
    jumps,
    signals: drafts.flatMap((draft) =>
      draft.signals.map((signal) => ({ name: `${draft.name}, ${signal.key}`, expression: asSignal(signal) })),
    ),
    tables,
  });
  if (!model.ok) return model;
  const expressions = [
    ...states.flatMap(({ start, rate }) => [start, rate]),
    ...[...stops, ...holdsWhile, ...jumps].map(({ condition }) => condition),
    ...jumps.flatMap(({ sets }) => sets.map(({ expression }) => expression)),
    ...(lasts === undefined ? [] : [lasts]),
    ...signalsOf(drafts),
  ];
  const reads = symbolsBehind(expressions, helpers);
  return succeed(
    { kind: 'motion', model: model.value, helpers, place: modelPlace, holdsWhile, jumps, reads },
    model.warnings,
  );
}

function signalsOf(drafts: readonly InstrumentDraft[]): readonly Expression[] {
  return drafts.flatMap((draft) => draft.signals.map(({ expression }) => expression));
}

/** A condition is watched through its margin, a number that is at least 0 exactly where the condition is true. */
function asSignal(signal: InstrumentDraft['signals'][number]): Expression {
  const { expression } = signal;
  return signal.what === 'value' ? expression : { ...expression, tree: conditionMargin(expression.tree) };
}
