import { type PublishedProblem, solve } from '../test/evolve/published-problem.ts';
import larger from '../test/published/initial-value-test-set.json' with { type: 'json' };
import nonstiff from '../test/published/nonstiff-initial-value-problems.json' with { type: 'json' };
import stiff from '../test/published/stiff-initial-value-problems.json' with { type: 'json' };

/** A problem with its published end. */
interface Task {
  readonly id: string;
  readonly isStiff: boolean;
  readonly problem: PublishedProblem;
  readonly end: readonly number[];
}

const tolerances = [1e-4, 1e-6, 1e-8, 1e-10, 1e-12];
/** Problems of the large set that stand for their kinds. */
const chosen = ['A4', 'B1', 'B5', 'C3', 'D1', 'D5', 'E2', 'Brusselator', 'Arenstorf'];
/** An explicit method on a stiff problem is given up beyond this. */
const maxSteps = 20_000;

/**
 * Prints, for each published problem and method, the error at the end and the evaluations of the rates it took, by
 * tolerance: the largest |difference|/(1 + |value|) where nothing is stiff, the largest relative one where it is.
 */
export async function main(): Promise<void> {
  console.log('Each cell: error, evaluations of the rates.\n');
  console.log(
    `| problem | method | ${tolerances.map((tolerance) => tolerance.toExponential(0)).join(' | ')} |`,
  );
  console.log(`| --- | --- |${' --- |'.repeat(tolerances.length)}`);
  for (const task of tasks()) {
    for (const method of task.isStiff
      ? (['automatic', 'implicit'] as const)
      : (['explicit', 'implicit'] as const)) {
      const cells = tolerances.map((tolerance) => cellOf(task, method, tolerance));
      console.log(`| ${task.id} | ${nameOf(method)} | ${cells.join(' | ')} |`);
    }
  }
}

function nameOf(method: 'automatic' | 'explicit' | 'implicit'): string {
  return { automatic: 'chosen by itself', explicit: 'explicit, order 8', implicit: 'implicit, order 5' }[
    method
  ];
}

function tasks(): readonly Task[] {
  const plain = nonstiff.problems
    .filter(({ id }) => chosen.includes(id))
    .map(
      (entry): Task => ({
        id: entry.id,
        isStiff: false,
        problem: {
          equations: entry.equations,
          start: entry.y0.map(Number),
          endS: Number(entry.t1),
          constants: { mu: 0.012277471 },
        },
        end: entry.end.map(Number),
      }),
    );
  const large = larger.problems.map(
    ({ id, equations, y0, t1, end }): Task => ({
      id,
      isStiff: id !== 'Pleiades',
      problem: { equations, start: y0, endS: t1 },
      end,
    }),
  );
  const hard = stiff.problems.map(({ id, equations, y0, values }): Task => {
    const last = values[id === 'Robertson' ? 1 : 0];
    return {
      id: `${id}, t = ${last.t}`,
      isStiff: true,
      problem: { equations, start: y0, endS: last.t },
      end: last.y,
    };
  });
  return [
    ...plain,
    ...large.filter(({ isStiff }) => !isStiff),
    ...hard,
    ...large.filter(({ isStiff }) => isStiff),
  ];
}

function cellOf(
  { problem, end, isStiff }: Task,
  method: 'automatic' | 'explicit' | 'implicit',
  relativeTolerance: number,
): string {
  try {
    const found = solve(problem, {
      method,
      relativeTolerance,
      maxSteps,
      ...(isStiff ? { absoluteTolerance: relativeTolerance * 1e-6 } : {}),
    });
    const error = Math.max(
      ...end.map(
        (value, i) => Math.abs(found.end[i] - value) / (isStiff ? Math.abs(value) : 1 + Math.abs(value)),
      ),
    );
    return `${error.toExponential(1)}, ${found.motion.steps.evaluations}`;
  } catch {
    return `more than ${maxSteps} steps`;
  }
}
