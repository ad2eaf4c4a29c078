import { defineConfig } from 'vitest/config';

const inBrowser = 'test/**/*.browser.test.ts';

export default defineConfig({
  test: {
    reporters: ['default'],
    projects: [
      {
        test: {
          name: 'node',
          include: ['test/**/*.test.ts'],
          exclude: [inBrowser],
          testTimeout: 180_000,
          // On two cores one worker, as the default has it, would leave a core idle.
          maxWorkers: '100%',
        },
      },
      {
        test: {
          name: 'browser',
          include: [inBrowser],
          testTimeout: 120_000,
          // A person at a screen has the whole machine: these come after the others, one at a time.
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
