import { useState } from 'react';
import { useBenchState } from '../../bench/use-bench.tsx';
import { ClassListPart } from './class-list-part.tsx';
import { DrawnForm } from './drawn-form.tsx';
import { ExpectedPart } from './expected-part.tsx';
import { MarkPart } from './mark-part.tsx';
import { PooledForm } from './pooled-form.tsx';
import { SlipsForm } from './slips-form.tsx';
import { StationsForm } from './stations-form.tsx';
import './classroom.css';

/** Stations with their values, what each and the class will find, and reports marked. */
export default function ClassroomScreen() {
  const lab = useBenchState((state) => state.lab);
  const [typed, setTyped] = useState('');
  const own = lab === null ? 0 : lab.stations.listed.length + (lab.stations.drawn?.groups ?? 0);
  const groups = /^[1-9]\d{0,2}$/.test(typed.trim()) ? Math.min(Number(typed), 500) : null;
  return (
    <div className="classroom">
      <section aria-labelledby="stations-heading">
        <h2 id="stations-heading">Stations</h2>
        <p className="quiet small">
          Each group’s place with the values that it has there; all else is as in the lab.
        </p>
        <StationsForm />
        <DrawnForm />
        <PooledForm />
      </section>
      {lab === null || own === 0 ? null : (
        <ExpectedPart groups={groups} own={own} typed={typed} onType={setTyped} />
      )}
      {lab === null || lab.results.length === 0 ? null : (
        <>
          <MarkPart lab={lab} groups={groups} />
          <ClassListPart groups={groups} example={lab.results[0]?.name ?? ''} />
        </>
      )}
      <SlipsForm />
    </div>
  );
}
