/** Gives each heading the level that follows in order: after a first level never a third. */
export function createHeadingLevels(): (level: 1 | 2 | 3) => 1 | 2 | 3 {
  let last: 0 | 1 | 2 | 3 = 0;
  return (level) => {
    last = level <= last + 1 ? level : last === 0 ? 1 : last === 1 ? 2 : 3;
    return last;
  };
}
