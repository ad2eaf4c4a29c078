import { lazy, Suspense } from 'react';
import './text.css';

const LabText = lazy(() => import('./lab-text.tsx'));

/** The lab file as text, for who would rather write than fill in; the screens follow each letter. */
export function TextPanel({ id }: { readonly id: string }) {
  return (
    <section className="text-panel" id={id} aria-labelledby={`${id}-heading`}>
      <header>
        <h2 id={`${id}-heading`}>lab.yaml</h2>
        <p className="small quiet">Ctrl+Space says what may be written, F8 goes to the next message.</p>
      </header>
      <Suspense fallback={<p className="quiet">One moment …</p>}>
        <LabText />
      </Suspense>
    </section>
  );
}
