import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/order.ts';

// Tests that run inside a real editor use mocha there; tests/editor/run.ts starts them.
const elsewhere = ['tests/editor/{suite,person,launcher,package,web}/**', '**/node_modules/**'];

/** Folders whose tests ask functions and look at what comes back. */
const functions = 'unit|architecture|reference|runner|quick';

/** Of those, tests that replace modules, timers or globals, start processes or count what their process does. */
const apart = [
  'tests/architecture/rooms.test.ts',
  'tests/runner/stage.test.ts',
  'tests/quick/quick.test.ts',
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
    // Only to end what hangs: other stages of a whole run share the cores, and no test is about time.
    testTimeout: 900_000,
    hookTimeout: 900_000,
    expect: { poll: { timeout: 300_000 } },
    maxWorkers: availableParallelism(),
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        extends: true,
        test: {
          // Command line, server, pages in a browser, and whatever else wants a process of its own.
          name: 'processes',
          include: [`tests/!(${functions})/**/*.test.ts`, ...apart],
          exclude: elsewhere,
          pool: 'forks',
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          // Threads that keep what they have loaded, so that no file loads it again.
          name: 'functions',
          include: [`tests/(${functions})/**/*.test.ts`],
          exclude: [...elsewhere, ...apart],
          pool: 'threads',
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
