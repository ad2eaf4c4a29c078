import { createRoom } from '../../app/compute/room.ts';
import type { Task } from '../../app/compute/task.ts';
import { markTask } from '../../app/compute/tasks/mark.ts';
import { ExpressionTooLarge } from '../../src/expression/index.ts';
import { fail, type Outcome, problem } from '../../src/problem/index.ts';
import { cautionsTask } from './cautions.ts';
import { describeTask } from './describe.ts';
import { equipTask } from './equip.ts';
import { figuresTask } from './figures.ts';
import { shownLedgerTask } from './ledger.ts';
import { ownFileTask } from './own-file.ts';

/** Everything that the page can ask. */
const table = {
  cautions: cautionsTask,
  describe: describeTask,
  equip: equipTask,
  figures: figuresTask,
  ledger: shownLedgerTask,
  mark: markTask,
  'own file': ownFileTask,
};

type Table = typeof table;
export type TaskName = keyof Table;
export type Questions = {
  readonly [Name in TaskName]: Table[Name] extends Task<infer Question, infer _> ? Question : never;
};
export type Answers = {
  readonly [Name in TaskName]: Table[Name] extends Task<infer _, infer Answer> ? Answer : never;
};

const tasks: { readonly [Name in TaskName]: Task<Questions[Name], Answers[Name]> } = table;
const room = createRoom();

/** Answers one question; what breaks is told as a mistake of the program. */
export async function answer<Name extends TaskName>(
  name: Name,
  question: Questions[Name],
): Promise<Outcome<Answers[Name]>> {
  try {
    return await tasks[name].run(room, question, { progress: () => undefined });
  } catch (error) {
    if (error instanceof ExpressionTooLarge)
      return fail(problem('expression-too-large', {}, 'The expressions of this lab grow too large.'));
    const message = error instanceof Error ? error.message : String(error);
    return fail(
      problem(
        'our-mistake',
        {},
        `A computation broke: ${message}. This is a mistake of the program, not of the lab.`,
      ),
    );
  }
}
