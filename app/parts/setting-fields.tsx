import { useState } from 'react';
import type { EditPlace } from '../../src/edit/index.ts';
import { plainAt, recordAt, textAt } from '../bench/plain.ts';
import { takeOut } from '../bench/take-out.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { Choice } from './choice.tsx';
import { EntryField } from './entry-field.tsx';
import { Help } from './help.tsx';
import { type AnySetting, formOfSetting } from './setting-form.ts';

interface SettingsProps {
  /** Of the map that holds the settings. */
  readonly at: EditPlace;
  readonly specs: readonly AnySetting[];
  /** Whose settings they are, for undo and for those who hear the screen. */
  readonly owner: string;
  /** What holds where nothing is written here: the lab's own settings, for what changes them. */
  readonly usual?: unknown;
  /** What stays when its last setting is taken out. */
  readonly within?: EditPlace;
}

/** The settings of an instrument or of a step: those that must be there and those that are set; the others on demand. */
export function SettingFields(props: SettingsProps) {
  const { at, specs, usual } = props;
  const form = useBenchState(({ reading }) => plainAt(reading.document?.data, at));
  const [showsAll, setShowsAll] = useState(false);
  const isShown = (spec: AnySetting): boolean =>
    showsAll || (usual === undefined && spec.required) || plainAt(form, [spec.name]) !== undefined;
  const shown = specs.filter(isShown);
  const others = specs.length - shown.length;
  return (
    <>
      {shown.length === 0 ? null : (
        <div className="settings">
          {shown.map((spec) => (
            <div key={spec.name} className={spec.kind === 'condition' ? 'setting wide' : 'setting'}>
              <SettingField {...props} spec={spec} />
              <Help about={`${spec.name} of ${props.owner}`}>
                <p>{spec.what}</p>
              </Help>
            </div>
          ))}
        </div>
      )}
      {others > 0 || showsAll ? (
        <button
          type="button"
          className="button plain small"
          aria-expanded={showsAll}
          onClick={() => setShowsAll(!showsAll)}
        >
          {showsAll ? 'Only what is set' : others === 1 ? '1 more setting' : `${others} more settings`}
          <span className="unseen"> of {props.owner}</span>
        </button>
      ) : null}
    </>
  );
}

function SettingField({
  at: whole,
  spec,
  owner,
  usual,
  within = whole,
}: SettingsProps & { readonly spec: AnySetting }) {
  const at = [...whole, spec.name];
  const inLab = usual === undefined ? '' : formOfSetting(spec).show(plainAt(usual, [spec.name]));
  const what = `${spec.name} of ${owner}`;
  if (spec.kind === 'choice' || spec.kind === 'instrument')
    return <SettingChoice at={at} spec={spec} owner={owner} inLab={inLab} within={within} />;
  return (
    <EntryField
      at={at}
      label={sayName(spec.name)}
      whose={`of ${owner}`}
      what={what}
      form={formOfSetting(spec)}
      within={within}
      placeholder={placeholderOf(spec, inLab)}
      wraps={spec.kind.endsWith('expression') || spec.kind === 'condition'}
      className={spec.kind === 'count' ? '' : 'formula'}
    />
  );
}

function SettingChoice({
  at,
  spec,
  owner,
  inLab,
  within,
}: {
  readonly at: EditPlace;
  readonly spec: AnySetting & { readonly kind: 'choice' | 'instrument' };
  readonly owner: string;
  readonly inLab: string;
  readonly within: EditPlace;
}) {
  const bench = useBench();
  const what = `${spec.name} of ${owner}`;
  const data = useBenchState(({ reading }) => reading.document?.data);
  const written = textAt(data, at) ?? '';
  const names =
    spec.kind === 'choice'
      ? spec.options
      : Object.entries(recordAt(data, ['instruments']))
          .filter(([, form]) => spec.kinds.includes(textAt(form, ['kind']) ?? ''))
          .map(([name]) => name);
  const first = spec.kind === 'choice' ? (spec.default ?? '') : '';
  const unset =
    inLab !== '' ? `${inLab}, as in the lab` : first !== '' ? `${first}, unless said` : 'choose one …';
  const known = written === '' || names.includes(written) ? names : [written, ...names];
  return (
    <Choice
      label={sayName(spec.name)}
      whose={`of ${owner}`}
      value={written}
      options={[{ value: '', says: unset }, ...known.map((value) => ({ value, says: value }))]}
      onChoose={(to) =>
        bench.edit([to === '' ? takeOut(data, at, within) : { kind: 'set', at, to }], {
          label: to === '' ? `${what} as usual` : `${what}: ${to}`,
        })
      }
    />
  );
}

function placeholderOf(spec: AnySetting, inLab: string): string {
  if (inLab !== '') return `${inLab}, as in the lab`;
  if ('default' in spec && spec.default !== undefined) return `${spec.default} unless said`;
  return EXAMPLES[spec.kind] ?? '';
}

const EXAMPLES: Readonly<Partial<Record<AnySetting['kind'], string>>> = {
  list: '0.2 m, 0.4 m',
  range: '0 N to 50 N',
  condition: 'x > 0.2 m',
  'new names': 'a new name',
  'start values': 'A = 1 V, tau = 2 s',
  renaming: 'tau = tau_fit',
};

/** The name of a setting, as it is said on a screen. */
function sayName(name: string): string {
  return name === 'gives' ? 'gives, under the name' : name;
}
