import { type ReactNode, useState } from 'react';
import { dataTables, type Figure } from '../../src/figure/index.ts';
import { copyPng, copySvg } from './copy-figure.ts';
import { FigureNumbers } from './figure-numbers.tsx';

/** What can be done with a figure: see all of it again, copy it, see it as numbers. */
export function FigureActions({
  figure,
  isZoomed,
  onWhole,
  children,
}: {
  readonly figure: Figure;
  readonly isZoomed: boolean;
  readonly onWhole: () => void;
  readonly children?: ReactNode;
}) {
  const [told, setTold] = useState('');
  const [showsNumbers, setShowsNumbers] = useState(false);
  const copy = (what: string, doIt: (figure: Figure) => Promise<void>) => () => {
    doIt(figure).then(
      () => setTold(`Copied as ${what}.`),
      () => setTold(`The browser did not let the page copy the ${what}.`),
    );
  };
  const hasNumbers = figure.kind === 'chart';
  return (
    <>
      <div className="figure-actions">
        {children}
        <span className="figure-told" role="status">
          {told}
        </span>
        {isZoomed ? (
          <button type="button" className="button plain small" onClick={onWhole}>
            Whole figure
          </button>
        ) : null}
        {hasNumbers ? (
          <button
            type="button"
            className="button plain small"
            aria-expanded={showsNumbers}
            onClick={() => setShowsNumbers(!showsNumbers)}
          >
            Numbers
          </button>
        ) : null}
        <button type="button" className="button plain small" onClick={copy('SVG', copySvg)}>
          Copy SVG
        </button>
        <button type="button" className="button plain small" onClick={copy('PNG', copyPng)}>
          Copy PNG
        </button>
      </div>
      {showsNumbers && hasNumbers ? <FigureNumbers tables={dataTables(figure)} /> : null}
    </>
  );
}
