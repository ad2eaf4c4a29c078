import { ProseList } from './prose-list.tsx';

/** What can hurt, a sentence each; printed beside the set-up in every document. */
export function Cautions() {
  return (
    <ProseList
      name="cautions"
      heading="Cautions"
      one="caution"
      about="They stand beside the set-up in every document. What the model computes to be dangerous is added by itself."
    />
  );
}
