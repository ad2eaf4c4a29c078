import type { TaskState } from '../compute/task-runner.ts';
import type { TaskName } from '../compute/tasks.ts';

/** How far long work is, with the way to stop it. */
export function Progress({
  progress,
  isWorking,
  onStop,
}: {
  readonly progress: TaskState<TaskName>['progress'];
  readonly isWorking: boolean;
  readonly onStop: () => void;
}) {
  if (!isWorking) return null;
  return (
    <p className="progress" role="status" data-busy="true">
      <progress
        aria-label={progress?.what ?? 'Work'}
        max={progress?.total ?? 1}
        value={progress === null ? undefined : progress.done}
      />
      <span className="quiet small">
        {progress === null ? 'Working it out …' : `${progress.done} of ${progress.total} ${progress.what}`}
      </span>
      <button type="button" className="button plain small" onClick={onStop}>
        Stop
      </button>
    </p>
  );
}
