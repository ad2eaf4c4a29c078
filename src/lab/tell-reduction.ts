import { fail, type Outcome, problem } from '../problem/index.ts';
import { changeForms, type WrittenChange } from './change-forms.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { InstrumentDraft } from './instrument-draft.ts';
import type { LabModel } from './model-section.ts';
import type { ModelSymbols } from './model-symbols.ts';
import { overlayDocument } from './overlay-document.ts';
import type { Quantity } from './quantity-section.ts';
import { readInstruments } from './read-instruments.ts';
import { type Reduction, readReduction } from './reduction-section.ts';
import type { Surroundings } from './surroundings.ts';
import type { ValidityCondition } from './validity.ts';

/**
 * Makes the reduction as somebody takes it who enters other settings of instruments or takes other steps, checked
 * like the lab's own. What the instruments do is not changed: the readings stay as they are.
 */
export type TellReduction = (change: WrittenChange, path: Path, written: LabDocument) => Outcome<Reduction>;

/** What the lab's own reduction was made with. */
export interface TellingParts {
  readonly drafts: readonly InstrumentDraft[];
  readonly model: LabModel | null;
  readonly symbols: ModelSymbols | null;
  readonly varied: readonly Quantity[];
  readonly validity: readonly ValidityCondition[];
}

export function createTeller(form: LabForm, around: Surroundings, parts: TellingParts): TellReduction {
  return (change, path, written) => {
    const kinds = Object.entries(change.instruments ?? {}).flatMap(([name, { kind }]) => {
      const own = form.instruments?.[name]?.kind;
      if (kind === undefined || own === undefined || kind === own) return [];
      const place = written.placeOf([...path, 'instruments', name, 'kind']);
      const message = `"${name}" is told to be of the kind "${String(kind)}"; its readings stay those of the kind "${own}".`;
      return [problem('unknown-instrument', place, message, 'Change its settings only.')];
    });
    if (kinds.length > 0) return fail(...kinds);
    const changed = changeForms(form, change, path, written);
    if (!changed.ok) return changed;
    const { forms, moved } = changed.value;
    const document = written === around.document ? overlayDocument(written, moved) : written;
    const surroundings = { ...around, document };
    const { drafts, model, symbols, varied, validity } = parts;
    const told = readInstruments(drafts, { ...form, ...forms }, model, symbols, surroundings);
    if (told.problems.length > 0) return fail(...told.problems);
    const { instruments } = told;
    return readReduction(forms.reduction ?? {}, { ...surroundings, instruments, varied, validity });
  };
}
