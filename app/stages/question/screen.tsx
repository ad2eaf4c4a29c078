import { useMemo } from 'react';
import { schematicFigure } from '../../../src/figure/index.ts';
import { listAt, plainAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { FigureView } from '../../figure/figure-view.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { Help } from '../../parts/help.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { Cautions } from './cautions.tsx';
import { References } from './references.tsx';
import { signalsOf } from './signals.ts';
import './question.css';

const LEVELS = [
  { value: 'steps', says: 'steps: no calculus, a table that students fill in' },
  { value: 'algebra', says: 'algebra: formulas, no derivatives' },
  { value: 'calculus', says: 'calculus: rates and integrals' },
] as const;

/** What the class asks, what happens, what can hurt, and a drawing of what acts on what. */
export default function QuestionScreen() {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const text = (key: string): string => textAt(data, [key]) ?? '';
  const field = (key: string, what: string) => ({
    written: text(key),
    at: [key],
    what,
    holdsBack: false,
    toEdits: (to: string) =>
      to.trim() === '' && key !== 'title'
        ? [{ kind: 'remove' as const, at: [key] }]
        : [{ kind: 'set' as const, at: [key], to }],
  });
  return (
    <div className="question-screen">
      <div className="question-main stack">
        <DraftField
          {...field('question', 'the question')}
          label="The question that the class answers"
          isProse
          className="question-field"
        />
        <DraftField {...field('about', 'what happens')} label="What happens on the bench" isProse />
        <div className="question-pair">
          <DraftField {...field('title', 'the title')} label="Title of the lab" />
          <DraftField
            {...field('licence', 'the licence')}
            label="Licence of text and data"
            placeholder="CC-BY-4.0"
          />
        </div>
        <EntryField
          at={['language']}
          label="Language of these words"
          what="the language"
          placeholder="en, de, de-AT; English unless said"
        />
        <LevelChoice levels={listAt(data, ['level']).map(String)} />
        <Cautions />
        <References />
      </div>
      <Schematic />
    </div>
  );
}

function LevelChoice({ levels }: { readonly levels: readonly string[] }) {
  const bench = useBench();
  const toggle = (level: string, isOn: boolean): void => {
    const next = LEVELS.map(({ value }) => value).filter((one) =>
      one === level ? isOn : levels.includes(one),
    );
    bench.edit(
      [next.length === 0 ? { kind: 'remove', at: ['level'] } : { kind: 'set', at: ['level'], to: next }],
      { label: `handouts for ${next.join(', ') || 'the usual level'}` },
    );
  };
  return (
    <fieldset className="levels">
      <legend className="said">
        One handout for each level of mathematics{' '}
        <Help about="levels">
          <p>{describeKey(['level'])}</p>
        </Help>
      </legend>
      {LEVELS.map(({ value, says }) => (
        <label key={value}>
          <input
            type="checkbox"
            checked={levels.includes(value)}
            onChange={(event) => toggle(value, event.target.checked)}
          />
          {says}
        </label>
      ))}
    </fieldset>
  );
}

function Schematic() {
  const lab = useBenchState((state) => state.lab);
  const data = useBenchState(({ reading }) => reading.document?.data);
  const instruments = plainAt(data, ['instruments']);
  const figure = useMemo(
    () =>
      lab === null
        ? null
        : schematicFigure(lab, { language: 'en', decimalMark: '.' }, { signals: signalsOf(instruments) }),
    [lab, instruments],
  );
  return figure === null ? null : (
    <div className="question-drawing">
      <h2>What acts on what</h2>
      <FigureView figure={figure} ratio={0.5} />
    </div>
  );
}
