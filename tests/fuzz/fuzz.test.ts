import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { programOf } from '../helpers/commandLine.ts';
import { bombs } from './bombs.ts';
import { fuzz, type FuzzOptions } from './fuzz.ts';
import { fuzzServer } from './messages.ts';

// The long search is `npm run fuzz -- --seed S --inputs N`; here are its first steps, and that it finds what is there.
/** Milliseconds after which a test that hangs is ended; none is about time. */
const longest = 300_000;
const seed = 20_261;

let folder: string;
let shared: FuzzOptions;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'fuzz-test-'));
  shared = {
    program: await programOf('tests/fuzz/worker.ts', folder),
    samples: join(import.meta.dirname, '../../samples'),
    seed,
    inputs: 400,
    featuresEvery: 30,
    limit: 30_000,
  };
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('inputs by chance', () => {
  it(
    'break no reader and no feature',
    async () => {
      const result = await fuzz(shared);
      expect(result.failures).toEqual([]);
      expect(result.inputs).toBe(400);
      // It is led by what it sees: new inputs were kept, and many different things were seen.
      expect(result.kept).toBeGreaterThan(50);
      expect(result.seen).toBeGreaterThan(500);
    },
    longest,
  );

  it(
    'are the same inputs for the same seed',
    async () => {
      const once = await fuzz({ ...shared, featuresEvery: 0, inputs: 60 });
      const again = await fuzz({ ...shared, featuresEvery: 0, inputs: 60 });
      const other = await fuzz({ ...shared, featuresEvery: 0, inputs: 60, seed: seed + 1 });
      expect([again.kept, again.seen]).toEqual([once.kept, once.seen]);
      expect(other.seen).not.toBe(once.seen);
    },
    longest,
  );

  it(
    'end no server and leave no question without an answer',
    async () => {
      const result = await fuzzServer({ seed, messages: 400, limit: 30_000 });
      expect(result.failures).toEqual([]);
      expect(result.answers).toBeGreaterThan(100);
    },
    longest,
  );
});

describe('inputs that ask for too much', () => {
  it(
    'are read in the end, each with what is wrong said',
    async () => {
      const result = await fuzz({ ...shared, bombs: true, featuresEvery: 0, inputs: bombs.length });
      expect(result.failures).toEqual([]);
      expect([...result.took.keys()]).toEqual(bombs.map(({ name }) => name));
    },
    longest,
  );
});

describe('a reader with a mistake in it', () => {
  const search = (plant: string, limit = 30_000) =>
    fuzz({
      ...shared,
      plant,
      limit,
      inputs: 20_000,
      featuresEvery: 0,
      enough: ({ failures }) => failures.length > 0,
    });

  it(
    'is found where it throws',
    async () => {
      const { failures } = await search('throws');
      expect(failures.map(({ kind }) => kind)).toEqual(['crash']);
      expect(failures[0]!.error).toContain('planted');
      expect(failures[0]!.input.text).toMatch(/tape: [lm]{12}/);
    },
    longest,
  );

  it(
    'is found where it never comes back',
    async () => {
      const { failures } = await search('hangs', 2000);
      expect(failures.map(({ kind }) => kind)).toEqual(['hang']);
      expect(failures[0]!.input.text).toMatch(/^(<{7}|={7}|>{7})/m);
    },
    longest,
  );

  it(
    'is found where reading on gives something else than reading anew',
    async () => {
      const { failures } = await search('forgets');
      expect(failures[0]!.error).toContain('Reading on gives something else');
    },
    longest,
  );
});
