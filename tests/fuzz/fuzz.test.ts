import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { programOf } from '../helpers/commandLine.ts';
import { bombLimit, bombs } from './bombs.ts';
import { fuzz, type FuzzOptions } from './fuzz.ts';
import { fileKinds } from '../../server/src/files/fileKind.ts';
import { hostileInputs, valuePaths } from './hostile.ts';
import { fuzzServer } from './messages.ts';

// The long search is `npm run fuzz -- --seed S --inputs N`; here are its first steps, and that it finds what is there.
// Limits are of processor time, so that a busy machine fails no test; this only ends what waits for ever.
const HOUR = 3_600_000;
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
    featuresEvery: 60,
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
    HOUR,
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
    HOUR,
  );

  it(
    'end no server and leave no question without an answer',
    async () => {
      const result = await fuzzServer({ seed, messages: 400 });
      expect(result.failures).toEqual([]);
      expect(result.answers).toBeGreaterThan(100);
    },
    HOUR,
  );
});

describe('inputs that ask for too much', () => {
  it(
    'are read in the end, each with what is wrong said',
    async () => {
      const result = await fuzz({
        ...shared,
        limit: bombLimit,
        fixed: 'bombs',
        featuresEvery: 0,
        inputs: bombs.length,
      });
      expect(result.failures).toEqual([]);
      expect([...result.took.keys()]).toEqual(bombs.map(({ name }) => name));
    },
    HOUR,
  );
});

describe('a hostile value', () => {
  it(
    'breaks nothing, whatever key it stands at',
    async () => {
      for (const kind of fileKinds) expect(valuePaths(kind).length).toBeGreaterThan(10);
      const inputs = [...hostileInputs()].length;
      // One in five: each key has its turn with some values, and each value with some keys.
      const result = await fuzz({ ...shared, fixed: 'hostile', inputs, oneIn: 5, featuresEvery: 35 });
      expect(result.failures).toEqual([]);
      expect(result.inputs).toBe(Math.ceil(inputs / 5));
    },
    HOUR,
  );
});

describe('a reader with a mistake in it', () => {
  const search = (plant: string) =>
    fuzz({
      ...shared,
      plant,
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
    HOUR,
  );

  it(
    'is found where it never comes back',
    async () => {
      const { failures } = await search('hangs');
      expect(failures.map(({ kind }) => kind)).toEqual(['hang']);
      expect(failures[0]!.input.text).toMatch(/^(<{7}|={7}|>{7})/m);
    },
    HOUR,
  );

  it(
    'is found where reading on gives something else than reading anew',
    async () => {
      const { failures } = await search('forgets');
      expect(failures[0]!.error).toContain('Reading on gives something else');
    },
    HOUR,
  );
});
