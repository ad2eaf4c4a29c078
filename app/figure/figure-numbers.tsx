import type { FigureTable } from '../../src/figure/index.ts';

/** More rows than this are for the data package, not for a screen. */
const MOST_ROWS = 200;

/** What a figure shows, as tables. */
export function FigureNumbers({ tables }: { readonly tables: readonly FigureTable[] }) {
  return (
    <div className="figure-numbers">
      {tables.map((table, index) => (
        <TableOf key={index} table={table} />
      ))}
    </div>
  );
}

function TableOf({ table: { caption, headings, rows } }: { readonly table: FigureTable }) {
  const left = rows.length - MOST_ROWS;
  return (
    <table>
      <caption>{caption}</caption>
      <thead>
        <tr>
          {headings.map((heading) => (
            <th key={heading} scope="col">
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.slice(0, MOST_ROWS).map((row, index) => (
          <tr key={index}>
            {row.map((cell, column) => (
              <td key={headings[column]} className={cell.value === null ? '' : 'number'}>
                {cell.text}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
      {left > 0 ? (
        <tfoot>
          <tr>
            <td colSpan={headings.length}>and {left} more</td>
          </tr>
        </tfoot>
      ) : null}
    </table>
  );
}
