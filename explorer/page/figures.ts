import type { DrawnFigures } from '../tasks/figures.ts';
import { element, problemList, section, showProblems } from './dom.ts';

export interface FiguresPart {
  readonly part: HTMLElement;
  readonly show: (drawn: DrawnFigures) => void;
  /** Of the place for a figure, CSS pixels. */
  readonly width: () => number;
}

/** Theory, model and data in one plot, and the motion. */
export function figuresPart(): FiguresPart {
  const place = element('div', { class: 'figures', id: 'figures' });
  const problems = problemList();
  return {
    part: section('Theory, model and data', place, problems),
    width: () => Math.round(Math.min(760, Math.max(280, place.clientWidth))),
    show({ figures, failed }) {
      const parser = new DOMParser();
      place.replaceChildren(
        ...figures.map((svg) =>
          element(
            'div',
            { class: 'figure' },
            document.importNode(parser.parseFromString(svg, 'image/svg+xml').documentElement, true),
          ),
        ),
      );
      showProblems(
        problems,
        failed.flatMap((one) => one.problems),
      );
    },
  };
}
