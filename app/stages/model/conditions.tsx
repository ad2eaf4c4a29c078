import { plainAt, recordAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { FormulaRow, useTakeOut } from './formula-row.tsx';
import { Jumps } from './jumps.tsx';

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
          <EntryField
            at={['model', 'lasts']}
            label="Ends after this time in any case"
            what="duration"
            placeholder="4.5 s"
            className="short"
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
      {isRelation ? null : <Jumps data={data} />}
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
