import type { DrawnFigures } from '../tasks/figures.ts';
import { element, problemList, showProblems } from './dom.ts';

export interface FiguresPart {
  readonly show: (drawn: DrawnFigures) => void;
  /** Of the place for a figure, CSS pixels. */
  readonly width: () => number;
}

/** Theory, model and data in one plot, and the motion, where the page has its first figure. */
export function figuresPart(): FiguresPart {
  const place = document.getElementById('figures') ?? element('div', {});
  const problems = problemList();
  place.after(problems);
  return {
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
      place.dataset.alive = 'true';
      showProblems(
        problems,
        failed.flatMap((one) => one.problems),
      );
    },
  };
}
