/** Attributes of a box that is scrolled when there is little room: the arrow keys reach what is hidden. */
export function scrollsByKeys(label: string) {
  return { className: 'scrolls', role: 'group', 'aria-label': label, tabIndex: 0 } as const;
}
