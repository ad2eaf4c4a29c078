import { coherentUnit, formatUnit, type Unit } from '../../quantity/index.ts';
import type { LabDocumentTree } from '../document/index.ts';
import type { StepwiseModel } from '../stepwise/index.ts';
import { cleanText, originLines, type WriterExtras } from '../writing/index.ts';
import { type CodeWords, codeWordsOf } from './code-words.ts';
import { emitPython, type PythonHelper } from './emit-python.ts';
import { pythonHelpers, pythonTables } from './python-helpers.ts';
import { pythonNames } from './python-names.ts';

/** Steps after which a program gives up. */
const MOST_STEPS = 1_000_000;

/**
 * The model as a program in Python 3 that needs nothing but the language: inputs, the step loop in plain words, what
 * comes out. It prints the results as the last line, `name = value unit`, one each.
 *
 * Texts of authors stand in comments only, one line each.
 */
export function writeCode(tree: LabDocumentTree, extras: WriterExtras): string {
  const words = codeWordsOf(tree.settings.language);
  const head = [tree.title, tree.subtitle, '', words.purpose, '', ...originLines(tree)]
    .map(comment)
    .join('\n');
  const { stepwise } = extras;
  if (stepwise === null || !stepwise.ok) {
    const reasons = stepwise === null ? [] : stepwise.problems.map(({ message }) => comment(message));
    return `${head}\n\n${[comment(words.cannot), ...reasons].join('\n')}\n`;
  }
  return `${head}\n\n${program(stepwise.value, words)}\n`;
}

function program(model: StepwiseModel, words: CodeWords): string {
  const { inputs, computed, states, terms, frictions, stops, jumps, lasts, tables } = model;
  const names = pythonNames([
    ...inputs.map(({ name }) => name),
    ...computed.map(({ name }) => name),
    ...states.map(({ name }) => name),
    ...frictions.map(({ share }) => share),
    ...terms.map(({ name }) => name),
  ]);
  const helpers = new Set<PythonHelper>();
  const named = (name: string): string => (name === 't' ? 't' : (names.get(name) ?? name));
  const say = (expression: Parameters<typeof emitPython>[0]): string =>
    emitPython(expression, named, helpers);
  const is = (text: string): string => (text === '' ? '' : `  ${comment(text)}`);

  const given = inputs.map(
    ({ name, is: meaning, value, unit }) =>
      `${named(name)} = ${value}${is([meaning, formatUnit(unit) === '' ? '' : `[${siOf(unit)}]`].filter((one) => one !== '').join(' '))}`,
  );
  const follows = computed.map(
    ({ name, is: meaning, tree }) => `${named(name)} = ${say(tree)}${is(meaning)}`,
  );
  const begin = [...states.map(({ name, start }) => `${named(name)} = ${say(start)}`), 't = 0.0'];
  const loop: string[] = [];
  const marginLines = (prefix: string): string[] =>
    stops.map(({ name, margin }, k) => `${prefix}_${k + 1} = ${say(margin)}  ${comment(name)}`);
  loop.push(
    ...(lasts === null
      ? ['next_t = step * dt']
      : ['next_t = step * dt', 'if next_t + 1e-9 * dt >= t_end:', '    next_t = t_end']),
    'h = next_t - t',
  );
  if (frictions.length > 0) loop.push('', comment(words.friction));
  for (const { share, velocity, free, full } of frictions) {
    loop.push(
      `free = ${say(free)}`,
      `added = (${say(full)}) - free`,
      `${named(share)} = 1.0 if added == 0 else max(-1.0, min(1.0, (-${named(velocity)} / h - free) / added))`,
    );
  }
  for (const [k, { margin }] of jumps.entries())
    loop.push(...(k === 0 ? [''] : []), `was_${k + 1} = ${say(margin)} > 0`);
  if (terms.length > 0)
    loop.push('', comment(words.terms), ...terms.map(({ name, tree }) => `${named(name)} = ${say(tree)}`));
  const moving = states.filter(({ isPlace }) => !isPlace);
  const places = states.filter(({ isPlace }) => isPlace);
  loop.push('', comment(words.rates));
  loop.push(...moving.map(({ name, rate }) => `rate_of_${named(name)} = ${say(rate)}`));
  loop.push('', `old = (t, ${states.map(({ name }) => named(name)).join(', ')})`, ...marginLines('before'));
  loop.push('', comment(places.length > 0 ? words.speedsFirst : words.allFromOld));
  for (const { name } of moving) {
    loop.push(`${named(name)} = ${named(name)} + rate_of_${named(name)} * h`);
    const friction = frictions.find(({ velocity }) => velocity === name);
    if (friction !== undefined)
      loop.push(`if abs(${named(friction.share)}) < 1:`, `    ${named(name)} = 0.0`);
  }
  if (places.length > 0) {
    loop.push('', comment(words.placesNext));
    // A place's rate may be a term: it is worked out anew with the new speeds.
    loop.push(
      ...terms
        .filter(({ name }) => places.some(({ rate }) => rate.kind === 'name' && rate.name === name))
        .map(({ name, tree }) => `${named(name)} = ${say(tree)}`),
    );
    loop.push(
      ...places.map(({ name, rate }) => `${named(name)} = ${named(name)} + ${bracketed(say(rate))} * h`),
    );
  }
  loop.push('', comment(words.timeGoesOn), 't = next_t');
  loop.push(`new = (t, ${states.map(({ name }) => named(name)).join(', ')})`, 'rows.append(new)');
  if (stops.length > 0) {
    loop.push(...marginLines('after'), '', 'theta = 1.0');
    const ends = stops.map((_stop, k) => `after_${k + 1} > 0`);
    for (const [k, { name }] of stops.entries())
      loop.push(
        `if after_${k + 1} > 0:  ${comment(words.ended(name))}`,
        `    theta = min(theta, before_${k + 1} / (before_${k + 1} - after_${k + 1}) if before_${k + 1} < 0 else 0.0)`,
      );
    loop.push(
      `if ${ends.join(' or ')}:`,
      `    ${comment(words.between)}`,
      '    rows[-1] = tuple(a + theta * (b - a) for a, b in zip(old, new))',
      '    break',
    );
  }
  if (jumps.length > 0) loop.push('', comment(words.jumps));
  for (const [k, { margin }] of jumps.entries())
    loop.push(`due_${k + 1} = not was_${k + 1} and ${say(margin)} > 0`);
  for (const [k, { name, sets }] of jumps.entries()) {
    if (sets.length === 0) continue;
    const [targets, values] = [sets.map(({ state }) => named(state)), sets.map(({ tree }) => say(tree))];
    loop.push(`if due_${k + 1}:  ${comment(name)}`, `    ${targets.join(', ')} = ${values.join(', ')}`);
  }
  if (jumps.length > 0) loop.push(`rows[-1] = (t, ${states.map(({ name }) => named(name)).join(', ')})`);
  if (lasts !== null) loop.push(`if t == t_end:  ${comment(words.timeIsUp)}`, '    break');

  const results = [
    `print(${pythonString(words.results)})`,
    'print(f"t = {rows[-1][0]!r} s")',
    ...states.map(
      ({ name, unit }, k) =>
        `print(${pythonString(`${name} =`)}, repr(rows[-1][${k + 1}]), ${pythonString(formatUnit(unit))})`,
    ),
  ];
  const drawing = [
    'if "--plot" in sys.argv:',
    '    import matplotlib.pyplot as plot',
    `    figure, axes = plot.subplots(${states.length}, 1, sharex=True, squeeze=False)`,
    ...states.flatMap(({ name, unit }, k) => [
      `    axes[${k}][0].plot([row[0] for row in rows], [row[${k + 1}] for row in rows])`,
      `    axes[${k}][0].set_ylabel(${pythonString(`${name} / (${formatUnit(unit) || '1'})`)})`,
    ]),
    `    axes[${states.length - 1}][0].set_xlabel("t / s")`,
    '    plot.show()',
  ];
  const sections = [
    'import math\nimport sys',
    ...pythonHelpers(helpers),
    ...(helpers.has('curve') ? [pythonTables(tables)] : []),
    [comment(words.inputs), ...given].join('\n'),
    ...(follows.length > 0 ? [[comment(words.computed), ...follows].join('\n')] : []),
    [comment(words.step), `dt = ${model.stepS}`].join('\n'),
    [
      comment(words.start),
      ...begin,
      `rows = [(t, ${states.map(({ name }) => named(name)).join(', ')})]`,
      ...(lasts === null ? [] : [`t_end = ${say(lasts)}`]),
    ].join('\n'),
    [
      comment(words.loop),
      `for step in range(1, ${MOST_STEPS + 1}):`,
      ...loop.map((line) => (line === '' ? '' : `    ${line}`)),
      'else:',
      `    sys.exit(${pythonString(words.giveUp)})`,
    ].join('\n'),
    results.join('\n'),
    [comment(words.plot), ...drawing].join('\n'),
  ];
  return sections.join('\n\n');
}

/** A text as one line of comment: no break in it can begin a line of code. */
function comment(text: string): string {
  return text === '' ? '#' : `# ${cleanText(text).replace(/[\p{Cc}\u2028\u2029\u0085]+/gu, ' ')}`;
}

/** A text as a string of the language: JSON's escapes are Python's too. */
function pythonString(text: string): string {
  return JSON.stringify(cleanText(text));
}

function bracketed(expression: string): string {
  return /^[\p{L}\p{N}_.]+$/u.test(expression) ? expression : `(${expression})`;
}

function siOf(unit: Unit): string {
  return formatUnit(coherentUnit(unit.dimension));
}
