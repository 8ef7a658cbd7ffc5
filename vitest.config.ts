import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/order.ts';

// Tests that run inside a real editor use mocha there; tests/editor/run.ts starts them.
const elsewhere = ['tests/editor/{suite,person,launcher,package,web}/**', '**/node_modules/**'];

/**
 * Unit tests that replace modules, timers or globals, or that count what one process does: each has a process of its own.
 */
const alone = [
  'tests/architecture/rooms.test.ts',
  'tests/runner/stage.test.ts',
  'tests/quick/**/*.test.ts',
  'tests/unit/bench/**/*.test.ts',
  'tests/unit/client/**/*.test.ts',
  'tests/unit/git/**/*.test.ts',
  'tests/unit/samples/generate.test.ts',
  'tests/unit/lsp/documents/eventLoop.test.ts',
  'tests/unit/lsp/editing/hover.test.ts',
  'tests/unit/model/week/remembered.test.ts',
];

export default defineConfig({
  test: {
    testTimeout: 30_000,
    maxWorkers: availableParallelism(),
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        extends: true,
        test: {
          // Command line, server, pages in a browser, and whatever else starts processes or changes its own.
          name: 'processes',
          include: ['tests/**/*.test.ts'],
          exclude: [
            ...elsewhere,
            'tests/unit/**',
            'tests/architecture/**',
            'tests/runner/**',
            'tests/reference/**',
          ],
          pool: 'forks',
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'alone',
          include: alone,
          exclude: elsewhere,
          pool: 'forks',
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          // Functions of their arguments: threads that keep what they have loaded, so that no file loads it again.
          name: 'functions',
          include: ['tests/{unit,architecture,runner,reference}/**/*.test.ts'],
          exclude: [...elsewhere, ...alone],
          pool: 'threads',
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
