import type { LabInstrument } from '../../../src/lab/index.ts';
import { isRecord, plainAt, recordAt } from '../../bench/plain.ts';
import { takeOut } from '../../bench/take-out.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { ChangedInstruments } from '../../parts/changed-instruments.tsx';
import { ChangedSteps } from '../../parts/changed-steps.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { RenameEntry } from '../../parts/rename-field.tsx';
import { SymbolValues } from '../../parts/symbol-values.tsx';

/** Common mistakes, each told as a change of what the class reckons with, of the apparatus or of the steps. */
export function SlipsForm() {
  const bench = useBench();
  const slips = useBenchState(({ reading }) => recordAt(reading.document?.data, ['slips']));
  return (
    <section aria-labelledby="slips-heading">
      <h2 id="slips-heading">Common slips</h2>
      <p className="quiet small">
        Mistakes that classes make. Each is run through the lab, so that a number that is off can be traced
        back to it.
      </p>
      {Object.keys(slips).map((name) => (
        <SlipForm key={name} name={name} />
      ))}
      <AddLine
        label="Another slip, in a few words"
        onAdd={(name) =>
          bench.edit([{ kind: 'insert', at: ['slips'], key: name, value: { set: {} } }], {
            label: `slip ${name} added`,
          })
        }
      />
    </section>
  );
}

function SlipForm({ name }: { readonly name: string }) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const lab = useBenchState((state) => state.lab);
  const at = ['slips', name];
  const owner = `with the slip ${name}`;
  const base = lab?.quantities.base ?? [];
  return (
    <div className="instrument">
      <div className="changed-head">
        <h3>{name}</h3>
        <RenameEntry at={at} />
        <button
          type="button"
          className="button plain small"
          onClick={() => bench.edit([takeOut(data, at, [])], { label: `slip ${name} taken out` })}
        >
          Take out<span className="unseen"> slip {name}</span>
        </button>
      </div>
      <div className="slip-words">
        <EntryField
          at={[...at, 'is']}
          label="what goes wrong"
          whose={`: ${name}`}
          what={`what goes wrong: ${name}`}
          holdsBack={false}
          wraps
        />
        <EntryField
          at={[...at, 'helps']}
          label="the sentence that helps"
          whose={`: ${name}`}
          what={`help: ${name}`}
          holdsBack={false}
          wraps
        />
      </div>
      <div className="form-part">
        <h4>The class reckons with</h4>
        <SymbolValues at={[...at, 'set']} symbols={base} owner={`reckoned ${owner}`} placeholder="2*R" />
      </div>
      <details className="form-part">
        <summary>
          Other ways in which it goes wrong<span className="unseen">: {name}</span>
        </summary>
        <div className="form-part">
          <h4>The apparatus really has</h4>
          <SymbolValues
            at={[...at, 'apparatus']}
            within={at}
            symbols={base}
            owner={`in the apparatus ${owner}`}
            placeholder="1.25 m"
          />
        </div>
        <div className="form-part">
          <h4>Written down in place of a reading</h4>
          <div className="form-fields">
            {lab?.instruments.map((one) => (
              <WrongReadings key={one.name} at={at} instrument={one} owner={owner} />
            ))}
          </div>
        </div>
        <div className="form-part">
          <h4>Reported in place of a result</h4>
          <SymbolValues
            at={[...at, 'reported']}
            within={at}
            symbols={lab?.results ?? []}
            owner={`reported ${owner}`}
            another="another result …"
            placeholder="1/k2"
          />
        </div>
        <div className="form-part">
          <h4>Instruments set wrongly</h4>
          <ChangedInstruments at={at} owner={owner} canBeOfOtherKind={false} />
        </div>
        <div className="form-part">
          <h4>Steps taken otherwise</h4>
          <ChangedSteps at={at} owner={owner} />
        </div>
      </details>
    </div>
  );
}

/** What is written down in place of each raw column of an instrument; a single text stands for its main one. */
function WrongReadings({
  at,
  instrument: { name, kind, shape },
  owner,
}: {
  readonly at: readonly string[];
  readonly instrument: LabInstrument;
  readonly owner: string;
}) {
  const place = [...at, 'readings', name];
  const isMap = useBenchState(({ reading }) => isRecord(plainAt(reading.document?.data, place)));
  const columns = kind.rawColumns(shape);
  const main = columns.find((column) => column.name === kind.mainColumn) ?? columns[0];
  if (main === undefined) return null;
  if (!isMap && columns.length === 1)
    return (
      <EntryField
        at={place}
        within={at}
        label={`${name}: ${main.name}`}
        what={`readings of ${name} ${owner}`}
        className="formula"
        placeholder={`2*${main.name}`}
      />
    );
  return columns.map((column) => (
    <EntryField
      key={column.name}
      at={isMap || column.name !== main.name ? [...place, column.name] : place}
      within={at}
      label={`${name}: ${column.name}`}
      what={`${column.name} of ${name} ${owner}`}
      className="formula"
      placeholder={`2*${column.name}`}
    />
  ));
}
