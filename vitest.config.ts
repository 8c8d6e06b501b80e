import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // Every core: by itself vitest leaves one idle, which is half of a machine that has two.
    maxWorkers: '100%',
    projects: [
      {
        test: {
          name: 'unit',
          include: ['src/**/*.test.ts', 'src/**/*.test.tsx', 'tests/panels/**/*.test.ts', 'tests/docs/**/*.test.ts'],
          environment: 'node',
          testTimeout: 60_000,
          // What these test is pure, so files can share what they import.
          isolate: false,
        },
      },
      {
        test: {
          name: 'outside',
          include: ['tests/outside/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'command',
          include: ['tests/command/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'documents',
          include: ['tests/documents/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
