import { isRecord, listAt, plainAt, recordAt } from '../bench/plain.ts';
import { useBenchState } from '../bench/use-bench.tsx';
import { RouteLink } from '../shell/route-link.tsx';

/** What a lab must have before it gives a number, in the order of the work. */
const NEEDS = [
  {
    stage: 'model',
    says: 'a model: what happens',
    isThere: (data: unknown) => isRecord(plainAt(data, ['model'])),
  },
  {
    stage: 'apparatus',
    says: 'an instrument that looks at it',
    isThere: (data: unknown) => Object.keys(recordAt(data, ['instruments'])).length > 0,
  },
  {
    stage: 'reduction',
    says: 'steps from its readings to a number',
    isThere: (data: unknown) => listAt(data, ['reduction', 'each run']).length > 0,
  },
  {
    stage: 'reduction',
    says: 'a result that is compared with theory',
    isThere: (data: unknown) => Object.keys(recordAt(data, ['results'])).length > 0,
  },
] as const;

/** Whether a lab has all that it takes to give a number. */
export function useIsWhole(): boolean {
  // While a text is being typed it may be none that can be read; what is wrong with it is said elsewhere.
  return useBenchState(
    ({ reading: { document } }) => document === null || NEEDS.every(({ isThere }) => isThere(document.data)),
  );
}

/** What a lab that has just been begun still needs, each with the way to it; what is there is ticked. */
export function StillNeeded() {
  const id = useBenchState((state) => state.id);
  const data = useBenchState(({ reading }) => reading.document?.data);
  return (
    <div className="still-needed">
      <p>There are numbers here as soon as the lab has</p>
      <ul>
        {NEEDS.map(({ stage, says, isThere }) => {
          const has = isThere(data);
          return (
            <li key={says} data-has={has}>
              {has ? (
                <span>
                  {says}
                  <span className="unseen">, there already</span>
                </span>
              ) : (
                <RouteLink to={{ kind: 'lab', id, stage }}>{says}</RouteLink>
              )}
            </li>
          );
        })}
      </ul>
    </div>
  );
}
