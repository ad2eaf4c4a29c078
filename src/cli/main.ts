#!/usr/bin/env node
import { isMainThread } from 'node:worker_threads';
import { superviseThread } from './supervise-thread.ts';

// The work runs in a thread of its own, so that Ctrl-C is heard in the middle of a computation.
if (isMainThread) {
  superviseThread(new URL(import.meta.url));
} else {
  const { workInThread } = await import('./work-in-thread.ts');
  await workInThread();
}
