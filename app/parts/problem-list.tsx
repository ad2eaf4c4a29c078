import { formatPlace, type Problem } from '../../src/problem/index.ts';

/** Messages as the command line has them: where, what was found, what to try. */
export function ProblemList({
  problems,
  id,
  hidesPlace = false,
}: {
  readonly problems: readonly Problem[];
  readonly id?: string;
  /** Beside the field that a message speaks of, its place need not be said. */
  readonly hidesPlace?: boolean;
}) {
  if (problems.length === 0) return null;
  return (
    <ul className="problems" id={id}>
      {problems.map((found) => {
        const where = formatPlace(found.place);
        return (
          <li key={`${found.code} ${where} ${found.message}`} data-severity={found.severity}>
            {hidesPlace || where === '' ? null : <span className="where">{where}</span>}
            {found.message}
            {found.tryThis === undefined ? null : ` ${found.tryThis}`}
          </li>
        );
      })}
    </ul>
  );
}
