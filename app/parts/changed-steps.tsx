import type { EditPlace, PlainValue } from '../../src/edit/index.ts';
import { nameSteps } from '../../src/lab/index.ts';
import { acrossRunsSteps, eachRunSteps } from '../../src/reduction/index.ts';
import { isRecord, listAt, plainAt, recordAt } from '../bench/plain.ts';
import { takeOut } from '../bench/take-out.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { Choice } from './choice.tsx';
import { SettingFields } from './setting-fields.tsx';
import { StepList } from './step-list.tsx';

const PARTS = [
  { part: 'each run', kinds: eachRunSteps },
  { part: 'across runs', kinds: acrossRunsSteps },
] as const;

const SAID = { 'each run': 'of each run', 'across runs': 'across runs' } as const;

/** Steps that are taken otherwise than in the lab: single settings, a step left out, or steps of one's own. */
export function ChangedSteps({ at, owner }: { readonly at: EditPlace; readonly owner: string }) {
  const data = useBenchState(({ reading }) => reading.document?.data);
  return PARTS.filter(({ part }) => listAt(data, ['reduction', part]).length > 0).map(({ part, kinds }) => {
    const place = [...at, 'reduction', part];
    return Array.isArray(plainAt(data, place)) ? (
      <div key={part} className="changed-part">
        <OwnSteps at={place} whole={at} part={part} owner={owner} />
        <StepList at={place} kinds={kinds} whose={`${SAID[part]} ${owner}`} />
      </div>
    ) : (
      <SingleSteps key={part} at={place} whole={at} part={part} kinds={kinds} owner={owner} />
    );
  });
}

interface PartProps {
  readonly at: EditPlace;
  /** The kit or slip. */
  readonly whole: EditPlace;
  readonly part: 'each run' | 'across runs';
  readonly owner: string;
}

function OwnSteps({ at, whole, part, owner }: PartProps) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  return (
    <div className="changed-head">
      <h4>Steps {SAID[part]}</h4>
      <button
        type="button"
        className="button plain small"
        onClick={() =>
          bench.edit([takeOut(data, at, whole)], { label: `steps ${SAID[part]} ${owner} as in the lab` })
        }
      >
        As in the lab
        <span className="unseen">
          : steps {SAID[part]} {owner}
        </span>
      </button>
    </div>
  );
}

function SingleSteps({ at, whole, part, owner, kinds }: PartProps & { readonly kinds: typeof eachRunSteps }) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const own = listAt(data, ['reduction', part]).filter(isRecord).filter(isStep);
  const names = nameSteps(own);
  const changes = recordAt(data, at);
  const changed = names.flatMap((name, index) => (name in changes ? [{ name, step: own[index] ?? {} }] : []));
  const choose = (chosen: string): void => {
    if (chosen === OWN) {
      const steps = toPlain(plainAt(data, ['reduction', part]));
      bench.edit([{ kind: 'set', at, to: steps }], { label: `own steps ${SAID[part]} ${owner}` });
    } else {
      bench.edit([{ kind: 'set', at: [...at, chosen], to: {} }], { label: `${chosen} otherwise ${owner}` });
    }
  };
  return (
    <>
      {changed.map(({ name, step }) => {
        const [kindName = ''] = Object.keys(step);
        const place = [...at, name];
        const isLeftOut = changes[name] === null;
        return (
          <div key={name} className="changed-part">
            <div className="changed-head">
              <h4>
                {name}, {SAID[part]}
              </h4>
              <Choice
                label={`${name} ${owner}`}
                hidesLabel
                value={isLeftOut ? 'left out' : 'other'}
                options={[
                  { value: 'other', says: 'with other settings' },
                  { value: 'left out', says: 'left out' },
                ]}
                onChoose={(to) =>
                  bench.edit([{ kind: 'set', at: place, to: to === 'left out' ? null : {} }], {
                    label: `${name} ${owner} ${to}`,
                  })
                }
              />
              <button
                type="button"
                className="button plain small"
                onClick={() =>
                  bench.edit([takeOut(data, place, whole)], { label: `${name} ${owner} as in the lab` })
                }
              >
                As in the lab
                <span className="unseen">
                  : {name} {owner}
                </span>
              </button>
            </div>
            {isLeftOut ? null : (
              <SettingFields
                at={place}
                specs={kinds.get(kindName)?.settings ?? []}
                owner={`${name} ${owner}`}
                usual={step[kindName] ?? {}}
              />
            )}
          </div>
        );
      })}
      <Choice
        label={`A step ${SAID[part]} that is other ${owner}`}
        hidesLabel
        value=""
        options={[
          { value: '', says: `another step ${SAID[part]} …` },
          ...names.filter((name) => !(name in changes)).map((name) => ({ value: name, says: name })),
          { value: OWN, says: 'all steps anew, beginning with those of the lab' },
        ]}
        onChoose={choose}
      />
    </>
  );
}

/** No step has this name. */
const OWN = '\u0000own';

type Step = Readonly<Record<string, Readonly<Record<string, unknown>>>>;

function isStep(value: Readonly<Record<string, unknown>>): value is Step {
  return Object.values(value).every(isRecord);
}

function toPlain(value: unknown): PlainValue {
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') return value;
  if (Array.isArray(value)) return value.map(toPlain);
  return isRecord(value)
    ? Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, toPlain(inner)]))
    : null;
}
