import { defineConfig } from 'vitest/config';

// Tests that run inside a real editor use mocha there; tests/editor/run.ts starts them.
export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/editor/{suite,person,launcher,package,web}/**', '**/node_modules/**'],
    testTimeout: 30_000,
  },
});
