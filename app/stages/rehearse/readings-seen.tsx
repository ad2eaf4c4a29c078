import type { RehearseAnswer } from '../../compute/tasks/rehearse.ts';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';

/** What each instrument shows in the first rehearsed run, as a logger would write it. */
export function ReadingsSeen({ answer }: { readonly answer: RehearseAnswer }) {
  return (
    <section aria-labelledby="seen-heading">
      <h2 id="seen-heading">What the instruments see</h2>
      <p className="quiet">The first rehearsed run, as raw readings.</p>
      <div className="seen">
        {answer.readings.map(({ instrument, columns, rows, count }) => (
          <div key={instrument} {...scrollsByKeys(`Readings of ${instrument}`)}>
            <table className="seen-table">
              <caption>
                {instrument}, {count} {count === 1 ? 'reading' : 'readings'}
              </caption>
              <thead>
                <tr>
                  {columns.map((column) => (
                    <th key={column} scope="col">
                      {column}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={row.join(' ')}>
                    {row.map((cell, index) => (
                      <td key={columns[index]}>{cell}</td>
                    ))}
                  </tr>
                ))}
                {count > rows.length ? (
                  <tr>
                    <td colSpan={columns.length} className="quiet">
                      and {count - rows.length} more
                    </td>
                  </tr>
                ) : null}
              </tbody>
            </table>
          </div>
        ))}
      </div>
    </section>
  );
}
