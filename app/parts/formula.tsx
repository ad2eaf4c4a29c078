import { lazy, Suspense } from 'react';

const Typeset = lazy(() => import('./typeset.tsx'));

/**
 * A formula in plain notation, set as mathematics: an equation where it has a sign of equality, else an expression or a
 * condition. While it cannot be read there is nothing to set; what is wrong stands at the field.
 */
export function Formula({ text }: { readonly text: string }) {
  return (
    <Suspense fallback={<span className="formula-set" data-busy="true" />}>
      <Typeset text={text} />
    </Suspense>
  );
}
