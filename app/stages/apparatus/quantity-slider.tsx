import { useMemo, useState } from 'react';
import type { BaseQuantity } from '../../../src/lab/index.ts';
import { fromSI, parseMagnitude } from '../../../src/quantity/index.ts';
import { textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { HandSlider } from '../../parts/hand-slider.tsx';
import { type SliderRange, sliderRange, writeAtSlider } from './slider-range.ts';

/** A slider for a quantity that is given as one value: model, ledger and results follow while it moves. */
export function QuantitySlider({ name }: { readonly name: string }) {
  const quantity = useBenchState(({ lab, reading }) => {
    const found = lab?.quantities.byName.get(name);
    const isOneValue = textAt(reading.document?.data, ['quantities', name, 'value']) !== undefined;
    return found?.kind === 'base' && isOneValue ? found : null;
  });
  return quantity === null ? null : <SliderOf quantity={quantity} />;
}

function SliderOf({ quantity }: { readonly quantity: BaseQuantity }) {
  const bench = useBench();
  const { name, unit } = quantity;
  const live = useBenchState((state) => (state.live?.name === name ? state.live.written : null));
  const value = fromSI(quantity.estimate.value, unit, 'point');
  const fresh = useMemo(() => sliderRange(quantity), [quantity]);
  // The range stays while the value is inside it: a slider that slips away under the hand cannot be used.
  const [kept, setKept] = useState<SliderRange | null>(fresh);
  const isInside = kept !== null && value >= kept.low && value <= kept.high;
  const range = isInside && sameUncertainty(kept, fresh) ? kept : fresh;
  if (range !== kept) setKept(range);
  if (range === null) return null;
  const magnitude = live === null ? null : parseMagnitude(live, 'point');
  const shown = magnitude?.ok === true ? magnitude.value.inUnit : value;
  return (
    <HandSlider
      label={`Try another ${name}`}
      low={range.low}
      high={range.high}
      step={range.step}
      value={shown}
      centre={range.centre}
      uncertainty={range.uncertainty}
      says={(at) => writeAtSlider(at, range, unit.text)}
      onMove={(at) => bench.hold({ name, written: writeAtSlider(at, range, unit.text) })}
      onRelease={() => {
        const held = bench.getState().live;
        if (held?.name !== name) return;
        bench.edit([{ kind: 'set', at: ['quantities', name, 'value'], to: held.written }], {
          label: `${name} to ${held.written}`,
          gesture: `slider of ${name}`,
        });
        bench.hold(null);
      }}
      onLeave={() => bench.endGesture()}
    />
  );
}

function sameUncertainty(one: SliderRange, other: SliderRange | null): boolean {
  return other === null || Math.abs(one.uncertainty - other.uncertainty) <= 1e-9 * one.uncertainty;
}
