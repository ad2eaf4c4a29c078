/** Where a person reads in a document: the last heading above the upper edge, and how far below it the edge is. */
export interface ReadingPlace {
  /** '' before the first heading. */
  readonly heading: string;
  /** px */
  readonly below: number;
}

/** The place in a frame; null where the page cannot be looked into or nothing was read yet. */
export function placeIn(frame: HTMLIFrameElement): ReadingPlace | null {
  const page = frame.contentDocument;
  const top = frame.contentWindow?.scrollY ?? 0;
  if (page === null || top === 0) return null;
  const headings = [...page.querySelectorAll<HTMLElement>('h1[id], h2[id], h3[id], section[id]')];
  const last = headings.filter((one) => one.getBoundingClientRect().top <= 1).at(-1);
  return last === undefined
    ? { heading: '', below: top }
    : { heading: last.id, below: -last.getBoundingClientRect().top };
}

/** Goes to a place in a page that was made anew; to the nearest that is left of it. */
export function goToPlace(frame: HTMLIFrameElement, { heading, below }: ReadingPlace): void {
  const page = frame.contentDocument;
  const view = frame.contentWindow;
  if (page === null || view === null) return;
  const found = heading === '' ? null : page.getElementById(heading);
  const start = found === null ? 0 : found.getBoundingClientRect().top + view.scrollY;
  view.scrollTo({ top: start + below, behavior: 'instant' });
}
