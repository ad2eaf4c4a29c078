import { useState } from 'react';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { Help } from '../../parts/help.tsx';
import { keepCopy } from '../../shell/keep-copy.ts';
import { OwnText } from './own-text.tsx';
import type { TextName } from './passages.ts';

const NAMES = [
  { value: 'handout', says: 'Student handout' },
  { value: 'guide', says: 'Teacher guide' },
] as const;

/** Which passages of the documents are drafted, and which an author has written. */
export function Texts({ language }: { readonly language: 'en' | 'de' }) {
  const bench = useBench();
  const mine = useBenchState((state) => state.mine);
  const files = useBenchState((state) => state.files);
  const [name, setName] = useState<TextName>('handout');
  const [told, setTold] = useState('');
  const own = `text/${name}.${language}.md`;
  // A text in the language of the documents goes before the one without a language.
  const path = files.some((file) => file.path === own) ? own : `text/${name}.md`;
  return (
    <section className="texts" aria-labelledby="texts-heading">
      <div className="part-head">
        <h2 id="texts-heading">In your own words</h2>
        <Help about="passages of your own">
          <p>
            Each section is drafted from the lab and stays up to date by itself. A passage of yours takes the
            place of that one section; the line “::draft” in it stands for what was drafted.
          </p>
          <p>
            Numbers are not typed but named, so that they stay true: <code>:value[L]</code> is the value of L,{' '}
            <code>:symbol[L]</code> its symbol.
          </p>
        </Help>
        <Choice label="Text" hidesLabel value={name} options={NAMES} onChoose={setName} />
      </div>
      {mine ? null : (
        <p className="small">
          This lab came with Benchwright, so its texts stay as they are.{' '}
          <button
            type="button"
            className="button"
            onClick={() => void keepCopy(bench, 'publish').then((failed) => setTold(failed ?? ''))}
          >
            Keep a copy for texts
          </button>{' '}
          {told}
        </p>
      )}
      <OwnText key={path} path={path} name={name} language={language} isFixed={!mine} />
    </section>
  );
}
