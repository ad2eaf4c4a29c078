import type { Expression } from '../expression/index.ts';
import { parseExpression } from '../expression/index.ts';
import type { InstrumentKind } from '../instrument/index.ts';
import { instrumentKinds } from '../instrument/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';

/** An instrument whose kind and signals are read; its settings wait until the model has given the signals dimensions. */
export interface InstrumentDraft {
  readonly name: string;
  readonly kind: InstrumentKind;
  /** The expressions it is pointed at, by the keys of its kind. */
  readonly signals: readonly {
    readonly key: string;
    readonly what: 'value' | 'condition';
    readonly expression: Expression;
  }[];
}

type InstrumentForms = NonNullable<LabForm['instruments']>;

/** Reads kind and signals of each instrument. */
export function readInstrumentDrafts(
  forms: InstrumentForms,
  document: LabDocument,
): Outcome<readonly InstrumentDraft[]> {
  const problems: Problem[] = [];
  const drafts: InstrumentDraft[] = [];
  for (const [name, form] of Object.entries(forms)) {
    const path: Path = ['instruments', name];
    const kind = instrumentKinds.get(form.kind);
    if (kind === undefined) {
      const near = nearestName(form.kind, instrumentKinds.keys());
      const known = [...instrumentKinds.keys()].join(', ');
      problems.push(
        problem(
          'unknown-instrument',
          document.placeOf([...path, 'kind']),
          `"${form.kind}" is not a kind of instrument.`,
          near === undefined ? `The kinds are ${known}.` : `Did you mean "${near}"?`,
        ),
      );
      continue;
    }
    const signals: InstrumentDraft['signals'][number][] = [];
    for (const spec of kind.signals) {
      const written = form[spec.name];
      if (written === undefined || written === null) {
        if (spec.required) {
          problems.push(
            problem(
              'missing-key',
              document.placeOfKey(path),
              `The instrument "${name}" has no "${spec.name}".`,
              spec.what,
            ),
          );
        }
        continue;
      }
      if (typeof written !== 'string' && typeof written !== 'number') {
        problems.push(
          problem(
            'wrong-form',
            document.placeOf([...path, spec.name]),
            `"${spec.name}" is not a text; an expression must stand there.`,
            spec.what,
          ),
        );
        continue;
      }
      const parsed = parseExpression(String(written), document.originOf([...path, spec.name]));
      if (parsed.ok) signals.push({ key: spec.name, what: spec.kind, expression: parsed.value });
      else problems.push(...parsed.problems);
    }
    drafts.push({ name, kind, signals });
  }
  return problems.length > 0 ? fail(...problems) : succeed(drafts);
}
