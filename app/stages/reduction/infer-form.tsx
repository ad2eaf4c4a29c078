import { useBenchState } from '../../bench/use-bench.tsx';
import { NameChoices } from '../../parts/name-choices.tsx';

/** Which quantities the trials may correct, and by which numbers of each run. */
export function InferForm() {
  const lab = useBenchState((state) => state.lab);
  if (lab === null || lab.results.length === 0) return null;
  const loose = lab.quantities.base.filter(({ estimate }) => estimate.standardUncertainty > 0);
  const said = new Map(loose.map(({ name, is }) => [name, is]));
  return (
    <section aria-labelledby="infer-heading">
      <h2 id="infer-heading">What the trials may correct</h2>
      <p className="quiet small">
        Quantities that are fitted to the trials within their uncertainties. Where none is chosen, those of
        the effects are; where no number is chosen, the results of each run.
      </p>
      <div className="form-fields">
        <NameChoices
          at={['infer', 'free']}
          names={loose.map(({ name }) => name)}
          label="Quantities"
          what="what the trials may correct"
          says={(name) => {
            const is = said.get(name) ?? '';
            return is === '' ? name : `${name}, ${is}`;
          }}
        />
        <NameChoices
          at={['infer', 'using']}
          names={[...lab.eachRun.scalars.keys()]}
          label="Numbers of each run that count"
          what="what is fitted to"
        />
      </div>
    </section>
  );
}
