import { useState } from 'react';
import { useBench } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import {
  type QuantityEntry,
  restateUncertainty,
  UNCERTAINTY_WORDS,
  type UncertaintyKind,
} from './quantity-entry.ts';

const KINDS = ['none', 'within', 'reading', 'u', 'expanded'] as const;

/** How well a quantity is known, in words, with the number that belongs to them. */
export function UncertaintyFields({ entry }: { readonly entry: QuantityEntry }) {
  const [begun, setBegun] = useState<UncertaintyKind | null>(null);
  const shown = [
    ...entry.uncertainties,
    ...(begun === null || entry.uncertainties.some(({ kind }) => kind === begun)
      ? []
      : [{ kind: begun, written: '' }]),
  ];
  if (shown.length === 0) {
    // Readings and places bring their uncertainty with them; it stands behind the value.
    if (entry.source !== 'value') return null;
    return (
      <div className="known-by">
        <KindChoice
          name={entry.name}
          kind="none"
          onChoose={(kind) => setBegun(kind === 'none' ? null : kind)}
        />
      </div>
    );
  }
  return shown.map(({ kind, written }) => (
    <OneUncertainty key={kind} entry={entry} kind={kind} written={written} onBegin={setBegun} />
  ));
}

function OneUncertainty({
  entry,
  kind,
  written,
  onBegin,
}: {
  readonly entry: QuantityEntry;
  readonly kind: UncertaintyKind;
  readonly written: string;
  readonly onBegin: (kind: UncertaintyKind | null) => void;
}) {
  const bench = useBench();
  const at = [...entry.at, kind];
  const place = kind === 'expanded' ? [...at, 'U'] : at;
  const choose = (to: UncertaintyKind | 'none'): void => {
    if (to === kind) return;
    const edits = written === '' ? null : restateUncertainty(entry, kind, to);
    if (edits === null) onBegin(to === 'none' ? null : to);
    else {
      onBegin(null);
      bench.edit(edits, { label: `uncertainty of ${entry.name}: ${UNCERTAINTY_WORDS[to]}` });
    }
  };
  return (
    <div className="known-by">
      <KindChoice name={entry.name} kind={kind} onChoose={choose} />
      <DraftField
        written={written}
        at={at}
        what={`uncertainty of ${entry.name}`}
        label={`${UNCERTAINTY_WORDS[kind]} of ${entry.name}`}
        hidesLabel
        holdsBack
        placeholder="2 mm"
        toEdits={(to) => {
          if (to.trim() === '') return [{ kind: 'remove', at }];
          return kind === 'expanded' && written === ''
            ? [{ kind: 'set', at, to: { U: to, k: 2 } }]
            : [{ kind: 'set', at: place, to }];
        }}
      />
      {kind === 'expanded' && written !== '' ? (
        <DraftField
          written={entry.coverage}
          at={[...at, 'k']}
          what={`coverage factor of ${entry.name}`}
          label="k"
          holdsBack
          toEdits={(to) => [
            { kind: 'set', at: [...at, 'k'], to: Number.isFinite(Number(to)) ? Number(to) : to },
          ]}
        />
      ) : null}
    </div>
  );
}

function KindChoice({
  name,
  kind,
  onChoose,
}: {
  readonly name: string;
  readonly kind: UncertaintyKind | 'none';
  readonly onChoose: (kind: UncertaintyKind | 'none') => void;
}) {
  return (
    <Choice
      label={`How well ${name} is known`}
      hidesLabel
      value={kind}
      options={KINDS.map((value) => ({ value, says: UNCERTAINTY_WORDS[value] }))}
      onChoose={onChoose}
    />
  );
}
