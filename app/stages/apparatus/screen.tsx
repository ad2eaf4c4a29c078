import { recordAt } from '../../bench/plain.ts';
import { useBenchState } from '../../bench/use-bench.tsx';
import { AddQuantity } from './add-quantity.tsx';
import { Correlations } from './correlations.tsx';
import { Instruments } from './instruments.tsx';
import { Kits } from './kits.tsx';
import { readEntry } from './quantity-entry.ts';
import { QuantityRow } from './quantity-row.tsx';
import './apparatus.css';

/** The quantities one by one, what looks at the phenomenon, and what a school may own instead. */
export default function ApparatusScreen() {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const quantities = Object.entries(recordAt(data, ['quantities']));
  return (
    <div className="apparatus">
      <section aria-labelledby="quantities-heading">
        <h2 id="quantities-heading">Quantities</h2>
        <ul className="quantity-rows">
          {quantities.map(([name, form]) => (
            <QuantityRow key={name} entry={readEntry(name, form)} />
          ))}
        </ul>
        <AddQuantity names={quantities.map(([name]) => name)} />
      </section>
      <Correlations />
      <Instruments />
      <Kits />
    </div>
  );
}
