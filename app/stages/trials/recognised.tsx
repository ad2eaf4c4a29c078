import type { SeenFile } from '../../compute/tasks/trial-file.ts';
import { ProblemList } from '../../parts/problem-list.tsx';

/** What a file was taken for: the sentences of the command line, and its columns. */
export function Recognised({ seen }: { readonly seen: SeenFile }) {
  const { sentences, columns, runs, wordColumns, notes } = seen;
  return (
    <div className="recognised">
      <p className="small">{sentences.join(' ')}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled with the arrow keys. */}
      <section className="scrolls" tabIndex={0} aria-label="Columns of the file">
        <table className="column-table">
          <thead>
            <tr>
              <th scope="col">Column</th>
              <th scope="col">Unit</th>
              {runs > 1 ? <th scope="col">Run</th> : null}
              <th scope="col" className="number">
                Readings
              </th>
              <th scope="col">Begins with</th>
            </tr>
          </thead>
          <tbody>
            {columns.map((column) => (
              <tr key={`${column.run} ${column.position}`}>
                <th scope="row">{column.heading}</th>
                <td>{column.unit ?? 'none'}</td>
                {runs > 1 ? <td>{column.run}</td> : null}
                <td className="number">{column.readings}</td>
                <td className="begins">{column.begins}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {wordColumns.length > 0 ? (
        <p className="small quiet">Columns of words, not read: {wordColumns.join(', ')}.</p>
      ) : null}
      <ProblemList problems={notes} hidesPlace />
    </div>
  );
}
