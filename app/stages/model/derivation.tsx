import { useMemo, useState } from 'react';
import { listAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState, useLabSource } from '../../bench/use-bench.tsx';
import type { CheckedLine } from '../../compute/tasks/derivation.ts';
import { useTask } from '../../compute/use-task.ts';
import { AddLine } from '../../parts/add-line.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { Help } from '../../parts/help.tsx';
import { MoveButtons } from '../../parts/move-buttons.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { FormulaRow, useTakeOut } from './formula-row.tsx';

/** Theory line by line: what is claimed, why, and whether it is true along the ideal motion. */
export function Derivation() {
  const bench = useBench();
  const takeOut = useTakeOut();
  const source = useLabSource();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const lines = listAt(data, ['derivation']);
  const question = useMemo(
    () => (source === null || lines.length === 0 ? null : { source: { ...source, without: [] } }),
    [source, lines.length],
  );
  const { answer, problems, isWorking } = useTask('follow', 'derivation', question);
  const checked = new Map(answer?.lines.map((line) => [line.text, line]));
  const wrong = answer?.lines.filter(({ isTrue }) => !isTrue).length ?? 0;
  return (
    <section aria-labelledby="derivation-heading">
      <div className="part-head">
        <h2 id="derivation-heading">The derivation</h2>
        <Help about="the derivation">
          <p>
            Each line is evaluated along the ideal motion, with all effects off, at the lab’s values and at
            others drawn around them. A line with a slip in it is found, even where its dimensions agree.
          </p>
        </Help>
      </div>
      {answer === null || lines.length === 0 ? null : (
        <p className="quiet" role="status">
          {wrong === 0
            ? `Every line is true along the ideal motion, at the lab’s values and ${answer.settings - 1} other settings.`
            : `${wrong} of ${answer.lines.length} lines ${wrong === 1 ? 'is' : 'are'} not true along the ideal motion.`}
        </p>
      )}
      <ProblemList problems={problems} />
      <ol className="derivation" data-busy={isWorking}>
        {lines.map((form, index) => (
          <li key={index}>
            <FormulaRow
              label={`Line ${index + 1}`}
              at={['derivation', index, 'line']}
              onTakeOut={() => takeOut(['derivation', index], `line ${index + 1}`)}
            >
              <Verdict line={checked.get(textAt(form, ['line']) ?? '')} />
            </FormulaRow>
            <DraftField
              label={`Why line ${index + 1}`}
              hidesLabel
              written={textAt(form, ['because']) ?? ''}
              at={['derivation', index, 'because']}
              what={`reason of line ${index + 1}`}
              holdsBack={false}
              wraps
              placeholder="because …"
              className="bare"
              toEdits={(to) =>
                to.trim() === ''
                  ? [{ kind: 'remove', at: ['derivation', index, 'because'] }]
                  : [{ kind: 'set', at: ['derivation', index, 'because'], to }]
              }
            />
            <LineDeeds
              index={index}
              count={lines.length}
              isApproximate={textAt(form, ['within']) !== undefined}
            />
          </li>
        ))}
      </ol>
      <AddLine
        label="Another line, such as v^2 = 2*g*x"
        onAdd={(line) =>
          bench.edit(
            [
              lines.length === 0
                ? { kind: 'set', at: ['derivation'], to: [{ line }] }
                : { kind: 'insert', at: ['derivation'], index: lines.length, value: { line } },
            ],
            { label: 'a line added' },
          )
        }
      />
    </section>
  );
}

/** A line is moved, or said to hold only nearly. */
function LineDeeds({
  index,
  count,
  isApproximate,
}: {
  readonly index: number;
  readonly count: number;
  readonly isApproximate: boolean;
}) {
  const bench = useBench();
  const [isBegun, setBegun] = useState(false);
  const at = ['derivation', index];
  const said = `line ${index + 1}`;
  const move = (to: number) => bench.edit([{ kind: 'move', at, index: to }], { label: `${said} moved` });
  return (
    <div className="line-deeds">
      {isApproximate || isBegun ? (
        <EntryField
          at={[...at, 'within']}
          label={`${said} holds nearly, within`}
          what={`how nearly ${said} holds`}
          placeholder="1 %"
          className="short"
        />
      ) : (
        <button type="button" className="button plain small" onClick={() => setBegun(true)}>
          Holds only nearly<span className="unseen">: {said}</span>
        </button>
      )}
      <MoveButtons said={said} index={index} count={count} onMove={move} />
    </div>
  );
}

function Verdict({ line }: { readonly line: CheckedLine | undefined }) {
  if (line === undefined) return null;
  if (line.isTrue) {
    return (
      <span className="verdict-tag" data-verdict="explained">
        true
      </span>
    );
  }
  return (
    <span className="line-false">
      <span className="verdict-tag" data-verdict="unexplained">
        not true
      </span>
      {line.sides === null ? null : (
        <span className="small">
          {' '}
          left {figures(line.sides.left)}, right {figures(line.sides.right)} in SI units, ratio{' '}
          {figures(line.sides.ratio)}.
          {line.followsFalse ? ' It may be false because an earlier line is.' : ''}
        </span>
      )}
    </span>
  );
}

function figures(value: number): string {
  return String(Number(value.toPrecision(5))).replace('-', '−');
}
