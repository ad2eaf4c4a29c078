import { plainAt, recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { FormulaRow, useTakeOut } from './formula-row.tsx';

/** What ends the motion, how long it may last, under which conditions the model is true, and what jumps. */
export function Conditions() {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const isRelation = plainAt(data, ['model', 'relation']) !== undefined;
  return (
    <>
      {isRelation ? null : (
        <section aria-labelledby="ends-heading">
          <h2 id="ends-heading">When it ends</h2>
          <ConditionList data={data} name="stops" another="Something else that ends it" />
          <DraftField
            label="Ends after this time in any case"
            written={textAt(data, ['model', 'lasts']) ?? ''}
            at={['model', 'lasts']}
            what="duration"
            holdsBack
            placeholder="4.5 s"
            className="short"
            toEdits={(to) =>
              to.trim() === ''
                ? [{ kind: 'remove', at: ['model', 'lasts'] }]
                : [{ kind: 'set', at: ['model', 'lasts'], to }]
            }
          />
        </section>
      )}
      <section aria-labelledby="holds-heading">
        <h2 id="holds-heading">Holds while</h2>
        <p className="quiet small">
          {describeKey(['model', 'holds while'])} Readings outside are set aside, measured and simulated
          alike.
        </p>
        <ConditionList data={data} name="holds while" another="Another condition" />
      </section>
      <Jumps data={data} />
    </>
  );
}

function ConditionList({
  data,
  name,
  another,
}: {
  readonly data: unknown;
  readonly name: 'stops' | 'holds while';
  readonly another: string;
}) {
  const bench = useBench();
  const takeOut = useTakeOut();
  const conditions = recordAt(data, ['model', name]);
  return (
    <>
      {Object.keys(conditions).map((said) => (
        <FormulaRow
          key={said}
          label={said}
          written={textAt(conditions, [said]) ?? ''}
          at={['model', name, said]}
          onTakeOut={() => takeOut(['model', name, said], said)}
        />
      ))}
      <AddLine
        label={`${another}, in words`}
        onAdd={(said) =>
          bench.edit([{ kind: 'set', at: ['model', name, said], to: '1 < 0' }], { label: `${said} added` })
        }
      />
    </>
  );
}

function Jumps({ data }: { readonly data: unknown }) {
  const takeOut = useTakeOut();
  const jumps = recordAt(data, ['model', 'jumps']);
  if (Object.keys(jumps).length === 0) return null;
  return (
    <section aria-labelledby="jumps-heading">
      <h2 id="jumps-heading">What jumps</h2>
      <p className="quiet small">{describeKey(['model', 'jumps'])}</p>
      {Object.entries(jumps).map(([said, form]) => (
        <div key={said} className="effect">
          <FormulaRow
            label={`${said}, when`}
            written={textAt(form, ['when']) ?? ''}
            at={['model', 'jumps', said, 'when']}
            onTakeOut={() => takeOut(['model', 'jumps', said], said)}
          />
          {Object.entries(recordAt(form, ['sets'])).map(([state, value]) => (
            <FormulaRow
              key={state}
              label={`${state} becomes`}
              written={String(value)}
              at={['model', 'jumps', said, 'sets', state]}
            />
          ))}
        </div>
      ))}
    </section>
  );
}
