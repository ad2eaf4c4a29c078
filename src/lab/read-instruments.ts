import type { Expression, Scope } from '../expression/index.ts';
import { checkDimensions } from '../expression/index.ts';
import type { Problem } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { unknownDimension } from '../quantity/index.ts';
import type { LabForm } from './form.ts';
import type { InstrumentDraft } from './instrument-draft.ts';
import { type LabInstrument, readInstrument } from './instrument-section.ts';
import type { LabModel } from './model-section.ts';
import { type ModelSymbols, scopeWith } from './model-symbols.ts';
import type { Surroundings } from './surroundings.ts';
import { timeDimension } from './time-dimension.ts';

/** The instruments; one whose settings have a problem stands without them, so that what reads it can be checked. */
export function readInstruments(
  drafts: readonly InstrumentDraft[],
  form: LabForm,
  model: LabModel | null,
  symbols: ModelSymbols | null,
  around: Surroundings,
): { readonly instruments: readonly LabInstrument[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const instruments: LabInstrument[] = [];
  let index = 0;
  for (const draft of drafts) {
    const signals = draft.signals.map((signal) => ({ key: signal.key, index: index++ }));
    const own = form.instruments?.[draft.name];
    if (own === undefined) continue;
    const main = signals.find((signal) => signal.key === 'of');
    const expression = draft.signals.find((signal) => signal.key === 'of')?.expression;
    const dimension =
      main === undefined || expression === undefined
        ? timeDimension
        : model === null
          ? dimensionByName(expression, symbols, around.scope)
          : dimensionOfSignal(model, main.index);
    const against = controlOf(model, form);
    const shape = against === null ? { dimension } : { dimension, against };
    const read = readInstrument(draft, own, shape, signals, around);
    if (!read.ok) problems.push(...read.problems);
    instruments.push(
      read.ok
        ? read.value
        : {
            name: draft.name,
            kind: draft.kind,
            shape,
            signals,
            settings: () => new Map(),
            settingTrees: new Map(),
            quantitiesRead: new Set(),
            place: around.document.placeOfKey(['instruments', draft.name]),
          },
    );
  }
  return { instruments, problems };
}

/** What the readings of a relation stand against; null for a motion. */
function controlOf(model: LabModel | null, form: LabForm): LabInstrument['shape']['against'] | null {
  if (model?.kind === 'relation') {
    return { name: model.relation.control, dimension: model.relation.controlDimension };
  }
  const [control] = Object.keys(form.model?.over ?? {});
  return model === null && form.model?.relation !== undefined && control !== undefined
    ? { name: control, dimension: unknownDimension }
    : null;
}

/** Dimension of what an instrument looks at; unknown where there is no model. */
function dimensionOfSignal(model: LabModel, index: number): Dimension {
  if (model.kind === 'motion') {
    const name = model.model.signalNames[index];
    return name === undefined ? unknownDimension : model.model.dimensionOfSignal(name);
  }
  return (
    (model.kind === 'relation' ? model.relation.signals[index]?.dimension : undefined) ?? unknownDimension
  );
}

/** The same where the model is not sound; unknown where that is all that can be said. */
function dimensionByName(expression: Expression, symbols: ModelSymbols | null, scope: Scope): Dimension {
  const checked = symbols === null ? null : checkDimensions(expression, scopeWith(symbols, scope));
  return checked?.ok ? checked.value : unknownDimension;
}
