import { useEffect, useState, useSyncExternalStore } from 'react';
import type { Lane } from './crew.ts';
import { crew } from './hired-crew.ts';
import { type TaskOptions, TaskRunner, type TaskState } from './task-runner.ts';
import type { Questions, TaskName } from './tasks.ts';

/**
 * Work for a screen: asks again whenever the question changes, and stops when the screen goes away.
 *
 * @param question memoised, for an equal question must be the same object; null while there is nothing to ask
 * @param options those of the first drawing count
 */
export function useTask<Name extends TaskName>(
  lane: Lane,
  task: Name,
  question: Questions[Name] | null,
  options: TaskOptions = {},
): TaskState<Name> {
  const [runner] = useState(() => new TaskRunner(crew, lane, task, options));
  useEffect(() => runner.ask(question), [runner, question]);
  useEffect(() => () => runner.stop(), [runner]);
  return useSyncExternalStore(runner.subscribe, runner.getState);
}
