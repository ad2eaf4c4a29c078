import type { EditPlace } from '../../src/edit/index.ts';
import { instrumentKinds } from '../../src/instrument/index.ts';
import { plainAt, recordAt, textAt } from '../bench/plain.ts';
import { takeOut } from '../bench/take-out.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { Choice } from './choice.tsx';
import { EntryField } from './entry-field.tsx';
import { SettingFields } from './setting-fields.tsx';

/** Instruments that are set otherwise than in the lab; the fields show what the lab has. */
export function ChangedInstruments({
  at,
  owner,
  canBeOfOtherKind,
}: {
  /** Of the kit or the slip. */
  readonly at: EditPlace;
  readonly owner: string;
  /** A kit may have another kind of instrument in the place of one. */
  readonly canBeOfOtherKind: boolean;
}) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const own = recordAt(data, ['instruments']);
  const changed = Object.keys(recordAt(data, [...at, 'instruments']));
  const free = Object.keys(own).filter((name) => !changed.includes(name));
  return (
    <>
      {changed.map((name) => (
        <ChangedInstrument key={name} at={at} name={name} owner={owner} canBeOfOtherKind={canBeOfOtherKind} />
      ))}
      {free.length === 0 ? null : (
        <Choice
          label={`An instrument that is set otherwise ${owner}`}
          hidesLabel
          value=""
          options={[
            { value: '', says: 'another instrument …' },
            ...free.map((name) => ({ value: name, says: name })),
          ]}
          onChoose={(name) =>
            bench.edit([{ kind: 'set', at: [...at, 'instruments', name], to: {} }], {
              label: `${name} otherwise ${owner}`,
            })
          }
        />
      )}
    </>
  );
}

function ChangedInstrument({
  at: whole,
  name,
  owner,
  canBeOfOtherKind,
}: {
  readonly at: EditPlace;
  readonly name: string;
  readonly owner: string;
  readonly canBeOfOtherKind: boolean;
}) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const at = [...whole, 'instruments', name];
  const usual = plainAt(data, ['instruments', name]);
  const usualKind = textAt(usual, ['kind']) ?? '';
  const ownKind = textAt(data, [...at, 'kind']) ?? '';
  const kind = instrumentKinds.get(ownKind === '' ? usualKind : ownKind);
  const isOther = ownKind !== '' && ownKind !== usualKind;
  return (
    <div className="changed-part">
      <div className="changed-head">
        <h4>{name}</h4>
        {canBeOfOtherKind ? (
          <Choice
            label={`Kind of ${name} ${owner}`}
            hidesLabel
            value={ownKind}
            options={[
              { value: '', says: `${usualKind}, as in the lab` },
              ...[...instrumentKinds.keys()]
                .filter((value) => value !== usualKind || value === ownKind)
                .map((value) => ({ value, says: value })),
            ]}
            onChoose={(to) =>
              bench.edit(
                [
                  to === ''
                    ? { kind: 'remove', at: [...at, 'kind'] }
                    : { kind: 'set', at: [...at, 'kind'], to },
                ],
                { label: `kind of ${name} ${owner}` },
              )
            }
          />
        ) : null}
        <button
          type="button"
          className="button plain small"
          onClick={() => bench.edit([takeOut(data, at, whole)], { label: `${name} ${owner} as in the lab` })}
        >
          As in the lab
          <span className="unseen">
            : {name} {owner}
          </span>
        </button>
      </div>
      {kind?.signals.map((signal) =>
        isOther || textAt(data, [...at, signal.name]) !== undefined ? (
          <EntryField
            key={signal.name}
            at={[...at, signal.name]}
            label={signal.name === 'of' ? 'looks at' : signal.name}
            what={`what ${name} looks at ${owner}`}
            placeholder={signal.what}
            className="formula"
          />
        ) : null,
      )}
      <SettingFields
        at={at}
        specs={kind?.settings ?? []}
        owner={`${name} ${owner}`}
        {...(isOther ? {} : { usual: usual ?? {} })}
      />
    </div>
  );
}
