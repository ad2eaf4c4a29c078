import { useMemo } from 'react';
import type { Overrule } from '../../../src/lab/index.ts';
import { useLabSource } from '../../bench/use-bench.tsx';
import { useTask } from '../../compute/use-task.ts';

/** What a file of the lab is taken for, with what the lab file tells of it. */
export function useSeenFile(path: string, asRead: Overrule | undefined) {
  const source = useLabSource();
  const digest = source?.files.find((one) => one.path === path)?.digest;
  const told = JSON.stringify(asRead ?? {});
  // Made anew only where the content or what is told of it has changed.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the digest and the words stand for the objects.
  const question = useMemo(() => {
    const file = source?.files.find((one) => one.path === path);
    return file === undefined ? null : { file, asRead: asRead ?? {} };
  }, [path, digest, told]);
  return useTask('follow', 'trial file', question);
}
