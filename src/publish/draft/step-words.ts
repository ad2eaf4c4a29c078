import { parseExpression, type Tree, toText } from '../../expression/index.ts';
import type { SchematicPart } from '../../figure/index.ts';
import type { WrittenStep } from '../../lab/index.ts';
import { formatNumber } from '../../quantity/index.ts';
import { formula, type Inlines, joinInlines, listInlines, type Part } from '../document/index.ts';
import type { Desk } from './desk.ts';

/** A text of the lab file; null where something else stands there. */
export function stringOf(written: unknown): string | null {
  if (typeof written === 'string') return written;
  return typeof written === 'number' ? formatNumber(written) : null;
}

/** Words of one kind of step, from its settings as they are written. */
type SayStep = (desk: Desk, settings: WrittenStep['settings']) => Inlines;

/** How each kind of step is told to a class; a further kind is a line here. */
const STEPS: Readonly<Record<string, SayStep>> = {
  'motion from edges': (desk, settings) =>
    desk.phrases.analysis.motionFromEdges(
      instrument(settings),
      expression(desk, settings.radius),
      given(desk, settings),
    ),
  'motion from samples': (desk, settings) =>
    desk.phrases.analysis.motionFromSamples(instrument(settings), given(desk, settings)),
  'motion from gates': (desk, settings) =>
    desk.phrases.analysis.motionFromGates(instrument(settings), given(desk, settings)),
  'motion from frames': (desk, settings) =>
    desk.phrases.analysis.motionFromFrames(instrument(settings), given(desk, settings)),
  readings: (desk, settings) => desk.phrases.analysis.readings(instrument(settings), given(desk, settings)),
  keep: sayKeep,
  line: sayLine,
  polynomial: (desk, settings) =>
    desk.phrases.analysis.polynomial(
      expression(desk, settings.of),
      expression(desk, settings.against),
      expression(desk, settings.degree),
    ),
  fit: (desk, settings) =>
    desk.phrases.analysis.fit(expression(desk, settings.of), expression(desk, settings.as)),
  mean: sayMean,
  peak: (desk, settings) => desk.phrases.analysis.peak(expression(desk, settings.of), given(desk, settings)),
  period: sayPeriod,
  value: (desk, settings) =>
    desk.phrases.analysis.value(expression(desk, settings.of), given(desk, settings)),
  column: (desk, settings) =>
    desk.phrases.analysis.column(expression(desk, settings.of), given(desk, settings)),
  zero: (desk, settings) => desk.phrases.analysis.zero(expression(desk, settings.column)),
  smooth: (desk, settings) => desk.phrases.analysis.smooth(expression(desk, settings.of)),
  derivative: (desk, settings) =>
    desk.phrases.analysis.derivative(expression(desk, settings.of), given(desk, settings)),
};

/** One step of the analysis in words that a class can follow. */
export function sayStep(desk: Desk, { name, settings }: WrittenStep): Inlines {
  const say = STEPS[name];
  return say === undefined ? desk.phrases.analysis.otherStep(name) : say(desk, settings);
}

/** Settings that a short line of a step shows, by its kind; those of others are instruments, or say little. */
const SHOWN: Readonly<Record<string, readonly string[]>> = {
  keep: ['while', 'from', 'to'],
  line: ['of', 'against'],
  polynomial: ['of', 'against'],
  fit: ['of', 'against'],
  mean: ['of'],
  peak: ['of'],
  period: ['of'],
  value: ['of'],
  column: ['of'],
  zero: ['column'],
  smooth: ['of'],
  derivative: ['of', 'against'],
};

/** One step of the analysis in a few words, for a drawing. */
export function shortStep(
  { name, settings }: WrittenStep,
  { setup, documents }: Desk['phrases'],
): readonly SchematicPart[] {
  const names: Readonly<Record<string, string>> = setup.stepNames;
  const shown = (SHOWN[name] ?? []).flatMap((key): SchematicPart[] => {
    const text = stringOf(settings[key]);
    if (text === null) return [];
    if (key === 'against') return [{ words: setup.against }, { expression: text }];
    const parsed = parseExpression(text);
    const parts = parsed.ok ? partsOf(parsed.value.tree).map((tree) => toText(tree)) : [text];
    return parts.flatMap((expression, index) =>
      index === 0 ? [{ expression }] : [{ words: documents.and }, { expression }],
    );
  });
  const title = names[name] ?? name;
  return shown.length === 0 ? [{ words: title }] : [{ words: `${title} ` }, ...shown];
}

function sayKeep(desk: Desk, settings: WrittenStep['settings']): Inlines {
  const { analysis } = desk.phrases;
  const sentences = [
    settings.while === undefined ? [] : analysis.keepWhile(condition(desk, settings.while)),
    settings.from === undefined ? [] : analysis.keepFrom(condition(desk, settings.from)),
    settings.to === undefined ? [] : analysis.keepTo(condition(desk, settings.to)),
  ].filter((sentence) => sentence.length > 0);
  return sentences.length === 0 ? joinInlines(analysis.keepPlain) : listInlines(sentences, ' ');
}

function sayLine(desk: Desk, settings: WrittenStep['settings']): Inlines {
  const { analysis } = desk.phrases;
  const sentences: Part[] = [
    analysis.line(expression(desk, settings.of), expression(desk, settings.against)),
  ];
  if (settings.slope !== undefined) sentences.push(analysis.slopeIs(expression(desk, settings.slope)));
  if (settings.intercept !== undefined)
    sentences.push(analysis.interceptIs(expression(desk, settings.intercept)));
  return listInlines(sentences, ' ');
}

function sayMean(desk: Desk, settings: WrittenStep['settings']): Inlines {
  const { analysis } = desk.phrases;
  const of = expression(desk, settings.of);
  return settings.while === undefined
    ? analysis.mean(of, given(desk, settings))
    : analysis.meanWhile(of, condition(desk, settings.while), given(desk, settings));
}

function sayPeriod(desk: Desk, settings: WrittenStep['settings']): Inlines {
  const { analysis } = desk.phrases;
  const of = expression(desk, settings.of);
  return typeof settings.first === 'number'
    ? analysis.period(of, given(desk, settings), String(settings.first))
    : analysis.periodAll(of, given(desk, settings));
}

function instrument(settings: WrittenStep['settings']): string {
  return stringOf(settings.of) ?? '';
}

function expression(desk: Desk, written: unknown): Inlines {
  const text = stringOf(written);
  return text === null ? [] : desk.names.expression(text);
}

/** A condition, its parts joined by the word of the language. */
function condition(desk: Desk, written: unknown): Inlines {
  const text = stringOf(written) ?? '';
  const parsed = parseExpression(text);
  if (!parsed.ok) return joinInlines(text);
  return listInlines(
    partsOf(parsed.value.tree).map((tree) => formula(tree)),
    desk.phrases.documents.and,
  );
}

function partsOf(tree: Tree): readonly Tree[] {
  return tree.kind === 'logic' && tree.operator === 'and'
    ? [...partsOf(tree.left), ...partsOf(tree.right)]
    : [tree];
}

/** The names that a step gives: one, or several, or { new name: what } pairs. */
function given(desk: Desk, { gives }: WrittenStep['settings']): Inlines {
  const names =
    typeof gives === 'string'
      ? [gives]
      : Array.isArray(gives)
        ? gives.filter((name): name is string => typeof name === 'string')
        : [];
  return listInlines(
    names.map((name) => desk.names.symbol(name)),
    ', ',
    desk.phrases.documents.and,
  );
}
