import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { rules } from '../../server/src/rules/catalogue.ts';
import { exampleFiles } from '../../server/src/rules/engine/exampleFiles.ts';
import { programOf } from '../helpers/commandLine.ts';
import { findingsOf } from '../unit/rules/findingsOf.ts';
import { measureGrowth } from './growth.ts';
import type { GrowthJob } from './growthTask.ts';
import { multiplied } from './multiply.ts';
import { filesOf, shapes } from './shapes.ts';

// Only to end what hangs: the limits are of processor time.
const HOUR = 3_600_000;
const check = ['check', '--as-of', '2026-11-28'];
/** Twice the size of a shape may take so many milliseconds of processor time: each is some 100 to 800 kB. */
const limit = 10_000;

let folder: string;
let program: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'growth-test-'));
  program = await programOf('tests/fuzz/growthWorker.ts', folder);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const shapeJobs = (way: GrowthJob['way']): GrowthJob[] =>
  shapes.map((shape) => ({
    name: shape.name,
    way,
    file: `a.${shape.kind}.yaml`,
    sizes: [shape.repeats / 10, shape.repeats, 2 * shape.repeats].map((repeats) => filesOf(shape, repeats)),
  }));

async function faults(jobs: readonly GrowthJob[], plant?: string): Promise<object> {
  const growths = await measureGrowth(jobs, { program, limit, ...(plant !== undefined && { plant }) });
  expect(growths.map(({ name }) => name)).toEqual(jobs.map(({ name }) => name));
  return Object.fromEntries(
    growths.flatMap(({ name, fault }) => (fault === undefined ? [] : [[name, fault]])),
  );
}

it(
  'a reader takes twice as long for a text twice as long',
  async () => {
    expect(await faults(shapeJobs('reader'))).toEqual({});
  },
  HOUR,
);

it(
  'check takes twice as long for a file twice as long',
  async () => {
    expect(await faults(shapeJobs(check))).toEqual({});
  },
  HOUR,
);

it('copies of an example have its mistake as often as there are copies', async () => {
  const often: string[] = [];
  for (const { code, page } of rules) {
    const found = await findingsOf(multiplied(exampleFiles(page.failing), 7), page);
    if (found.filter((one) => one.code === code).length >= 7) often.push(code);
  }
  // The others find something about a whole file, or about what is written once in it.
  expect(often.length).toBeGreaterThan(rules.length / 2);
});

it(
  'every rule takes twice as long for twice as many of its mistakes',
  async () => {
    const jobs = rules.map(({ code, page }) => ({
      name: code,
      way: 'rules' as const,
      file: 'example.route.yaml',
      sizes: [20, 200, 400].map((copies) => multiplied(exampleFiles(page.failing), copies)),
    }));
    expect(await faults(jobs)).toEqual({});
  },
  HOUR,
);

it(
  'a reader that takes four times as long is found',
  async () => {
    const [job] = shapeJobs('reader').filter(({ name }) => name === 'comments');
    expect(await faults([job!], 'grows')).toEqual({
      comments: expect.stringMatching(/times|processor time/) as string,
    });
  },
  HOUR,
);
