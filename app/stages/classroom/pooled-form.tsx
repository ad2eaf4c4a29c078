import { acrossRunsSteps } from '../../../src/reduction/index.ts';
import { isRecord, plainAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { NameChoices } from '../../parts/name-choices.tsx';
import { ResultsForm } from '../../parts/results-form.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { StepList } from '../../parts/step-list.tsx';

const AT = ['stations', 'pooled'];

/** What the stations find together: steps on the table of stations, and the results that they lead to. */
export function PooledForm() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const lab = useBenchState((state) => state.lab);
  const isThere = isRecord(plainAt(data, AT));
  const [first] = lab?.results ?? [];
  if (!isThere) {
    return first === undefined ? null : (
      <div>
        <h3>What the class finds together</h3>
        <p className="quiet small">{describeKey(AT)}</p>
        <button
          type="button"
          className="button"
          onClick={() => {
            const name = `${first.name}_class`;
            const to = {
              'across stations': [{ mean: { of: first.name, gives: name } }],
              results: { [name]: { is: `${first.is} of the class`, unit: first.unit.text || '1' } },
            };
            bench.edit([{ kind: 'set', at: AT, to }], { label: 'what the class finds together' });
          }}
        >
          Begin with the mean of {first.name}
        </button>
      </div>
    );
  }
  return (
    <div>
      <div className="changed-head">
        <h3>What the class finds together</h3>
        <button
          type="button"
          className="button plain small"
          onClick={() => bench.edit([{ kind: 'remove', at: AT }], { label: 'nothing is found together' })}
        >
          Take out<span className="unseen"> what the class finds together</span>
        </button>
      </div>
      <p className="quiet small">{describeKey([...AT, 'across stations'])}</p>
      <StepList at={[...AT, 'across stations']} kinds={acrossRunsSteps} whose="across stations" />
      <ResultsForm
        at={[...AT, 'results']}
        within={AT}
        another="Another number that the class finds, by its name in a step"
      />
      <details className="form-part">
        <summary>Errors that all stations share</summary>
        <NameChoices
          at={[...AT, 'same everywhere']}
          names={
            lab?.quantities.base
              .filter(({ estimate }) => estimate.standardUncertainty > 0)
              .map(({ name }) => name) ?? []
          }
          label={describeKey([...AT, 'same everywhere'])}
          what="errors that all stations share"
        />
      </details>
    </div>
  );
}
