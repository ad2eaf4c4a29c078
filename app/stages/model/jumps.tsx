import { recordAt } from '../../bench/plain.ts';
import { useBench } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { SymbolValues } from '../../parts/symbol-values.tsx';
import { FormulaRow, useTakeOut } from './formula-row.tsx';

/** What changes all at once: when it comes, and what each state becomes. */
export function Jumps({ data }: { readonly data: unknown }) {
  const bench = useBench();
  const takeOut = useTakeOut();
  const jumps = Object.keys(recordAt(data, ['model', 'jumps']));
  const states = Object.keys(recordAt(data, ['model', 'rates']));
  const [first] = states;
  if (first === undefined) return null;
  return (
    <section aria-labelledby="jumps-heading">
      <h2 id="jumps-heading">What jumps</h2>
      <p className="quiet small">{describeKey(['model', 'jumps'])}</p>
      {jumps.map((said) => (
        <div key={said} className="effect">
          <FormulaRow
            label={`${said}, when`}
            at={['model', 'jumps', said, 'when']}
            onTakeOut={() =>
              takeOut(jumps.length === 1 ? ['model', 'jumps'] : ['model', 'jumps', said], said)
            }
          />
          <div className="becomes">
            <span className="quiet small">becomes</span>
            <SymbolValues
              at={['model', 'jumps', said, 'sets']}
              symbols={states.map((name) => ({ name, is: '' }))}
              owner={`after ${said}`}
              another="another state …"
              placeholder={`-0.8*${first}`}
            />
          </div>
        </div>
      ))}
      <AddLine
        label="Something else that jumps, in words"
        onAdd={(said) =>
          bench.edit(
            [{ kind: 'set', at: ['model', 'jumps', said], to: { when: '1 < 0', sets: { [first]: first } } }],
            { label: `${said} added` },
          )
        }
      />
    </section>
  );
}
