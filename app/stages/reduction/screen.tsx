import { acrossRunsSteps, eachRunSteps } from '../../../src/reduction/index.ts';
import { Help } from '../../parts/help.tsx';
import { ResultsForm } from '../../parts/results-form.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { StepList } from '../../parts/step-list.tsx';
import { InferForm } from './infer-form.tsx';
import './reduction.css';

/** The steps of each run and across runs, the results that they lead to, and what the trials may correct. */
export default function ReductionScreen() {
  return (
    <div className="reduction">
      <section aria-labelledby="each-run-heading">
        <div className="part-head">
          <h2 id="each-run-heading">In each run</h2>
          <Help about="steps">
            <p>
              Each step takes columns and numbers that those before it gave, and gives new ones under names of
              your own. Names of quantities can stand in every formula.
            </p>
            <p>What smoothing and windows do to a result happens to the simulation too, and so cancels.</p>
          </Help>
        </div>
        <p className="quiet small">{describeKey(['reduction', 'each run'])}</p>
        <StepList at={['reduction', 'each run']} kinds={eachRunSteps} whose="of each run" />
      </section>
      <section aria-labelledby="across-runs-heading">
        <h2 id="across-runs-heading">Across runs</h2>
        <p className="quiet small">
          Steps on the table of all runs, a row for each: a line through the results against what was set.
        </p>
        <StepList at={['reduction', 'across runs']} kinds={acrossRunsSteps} whose="across runs" />
      </section>
      <section aria-labelledby="results-heading">
        <h2 id="results-heading">Results</h2>
        <p className="quiet small">
          The numbers that the lab compares. Each bears the name under which a step gives it, in each run or
          across them.
        </p>
        <ResultsForm at={['results']} another="Another result, by the name that a step gives" />
      </section>
      <InferForm />
    </div>
  );
}
