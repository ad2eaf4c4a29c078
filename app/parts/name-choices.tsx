import type { EditPlace } from '../../src/edit/index.ts';
import { listAt } from '../bench/plain.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';

/** Some of a few names, a list in the file; none of them, and the list is not there. */
export function NameChoices({
  at,
  names,
  label,
  what,
  says = (name) => name,
}: {
  readonly at: EditPlace;
  readonly names: readonly string[];
  readonly label: string;
  readonly what: string;
  readonly says?: (name: string) => string;
}) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const chosen = listAt(data, at).map(String);
  const all = [...names, ...chosen.filter((name) => !names.includes(name))];
  const toggle = (name: string, isOn: boolean): void => {
    const next = all.filter((one) => (one === name ? isOn : chosen.includes(one)));
    bench.edit([next.length === 0 ? { kind: 'remove', at } : { kind: 'set', at, to: next }], {
      label: next.length === 0 ? `${what} as usual` : `${what}: ${next.join(', ')}`,
    });
  };
  return (
    <fieldset className="name-choices">
      <legend className="said">{label}</legend>
      {all.map((name) => (
        <label key={name}>
          <input
            type="checkbox"
            checked={chosen.includes(name)}
            onChange={(event) => toggle(name, event.target.checked)}
          />
          {says(name)}
        </label>
      ))}
    </fieldset>
  );
}
