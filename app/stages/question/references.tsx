import { ProseList } from './prose-list.tsx';

/** Published sources, a line each; those that texts cite by a key stand in references.bib. */
export function References() {
  return (
    <ProseList
      name="references"
      heading="Sources"
      one="source"
      about="Books and papers that the lab rests on. Those that a text cites by a key stand in a file references.bib."
    />
  );
}
