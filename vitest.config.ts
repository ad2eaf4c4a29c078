import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    testTimeout: 60_000,
    reporters: ['default'],
    // On two cores one worker, as the default has it, would leave a core idle.
    maxWorkers: '100%',
  },
});
