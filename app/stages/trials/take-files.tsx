import { useCallback, useEffect, useState } from 'react';
import type { Problem } from '../../../src/problem/index.ts';
import { problem } from '../../../src/problem/index.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { sendTrial } from '../../link/server.ts';
import { ProblemList } from '../../parts/problem-list.tsx';
import { keepCopy } from '../../shell/keep-copy.ts';

/** Where files of readings come in: dropped anywhere on the screen, or chosen. */
export function TakeFiles() {
  const mine = useBenchState((state) => state.mine);
  return mine ? <OwnLab /> : <ShippedLab />;
}

function OwnLab() {
  const bench = useBench();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [told, setTold] = useState('');
  const [isOver, setOver] = useState(false);
  const take = useCallback(
    async (files: readonly File[]): Promise<void> => {
      const found: Problem[] = [];
      const said: string[] = [];
      for (const file of files) {
        setTold(`${file.name} is being put into the lab …`);
        const there = bench.getState().files;
        const answer = await sendTrial(bench.getState().id, file.name, file);
        if (answer.kind === 'ok') said.push(sayTaken(file.name, answer.value.path, there));
        else found.push(...(answer.kind === 'refused' ? answer.problems : [notAnswered(file.name)]));
      }
      setProblems(found);
      setTold(said.join(' '));
      await bench.refreshFiles();
    },
    [bench],
  );
  useDroppedFiles(take, setOver);
  return (
    <section className="take-files" data-over={isOver} aria-label="Put readings in">
      <p>
        Drop files of readings anywhere on this screen: delimited text of any program, .xlsx or .ods. They are
        copied into the lab as they are.
      </p>
      <label className="button choose-files">
        Choose files
        <input
          type="file"
          multiple
          className="unseen"
          onChange={(event) => {
            const files = [...(event.target.files ?? [])];
            // The same file can be chosen again after it was mended.
            event.target.value = '';
            void take(files);
          }}
        />
      </label>
      <p className="small quiet" role="status">
        {told}
      </p>
      <ProblemList problems={problems} />
    </section>
  );
}

function ShippedLab() {
  const bench = useBench();
  const [told, setTold] = useState('');
  useDroppedFiles(() => setTold('Keep a copy first; then drop the file again.'), ignore);
  const keep = async (): Promise<void> => setTold((await keepCopy(bench, 'trials')) ?? '');
  return (
    <section className="take-files" aria-label="Put readings in">
      <p>
        This lab came with Benchwright and stays as it is. Readings of your own go into a copy of it, together
        with what you have changed.
      </p>
      <button type="button" className="button" onClick={() => void keep()}>
        Keep a copy for readings
      </button>
      <p className="small quiet" role="status">
        {told}
      </p>
    </section>
  );
}

function ignore(): void {}

function useDroppedFiles(take: (files: readonly File[]) => void, setOver: (isOver: boolean) => void): void {
  useEffect(() => {
    const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') === true;
    const over = (event: DragEvent): void => {
      if (hasFiles(event)) setOver(true);
    };
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      setOver(false);
      take([...(event.dataTransfer?.files ?? [])]);
    };
    addEventListener('dragover', over);
    addEventListener('dragleave', leave);
    addEventListener('drop', drop);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('dragleave', leave);
      removeEventListener('drop', drop);
    };
  }, [take, setOver]);
}

function sayTaken(name: string, path: string, before: readonly { readonly path: string }[]): string {
  if (before.some((file) => file.path === path))
    return `The readings of ${name} are in the lab already, as ${path}.`;
  return path === `trials/${name}` ? `${path} is in the lab.` : `${name} is in the lab, as ${path}.`;
}

function notAnswered(name: string): Problem {
  return problem(
    'server-gone',
    {},
    `"${name}" could not be put into the lab: the bench’s server does not answer.`,
    'Drop it again when it is back.',
  );
}
