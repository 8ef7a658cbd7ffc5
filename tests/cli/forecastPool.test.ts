import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { commands } from '../../server/src/cli/commandList.ts';
import { parseArguments } from '../../server/src/cli/terminal/arguments.ts';
import { check } from '../../server/src/cli/commands/check.ts';
import type { WorkerOptions } from '../../server/src/cli/checking/findings.ts';
import { runForecastsInPool } from '../../server/src/cli/checking/forecastPool.ts';
import { runForecasts, forecastTask, type ForecastTask } from '../../server/src/cli/checking/forecasts.ts';
import type * as Forecasts from '../../server/src/cli/checking/forecasts.ts';
import { loadFiles } from '../../server/src/cli/project/loadFiles.ts';
import { buildModelInput } from '../../server/src/queries/modelInput.ts';
import { runnerFilesOrAll } from '../../server/src/workspace/runnerFiles.ts';
import { makeRuns } from '../bench/logs.ts';
import { makeRoute, type MadeRoute } from '../bench/route.ts';
import { programOf } from '../helpers/commandLine.ts';
import { folderOf, placeOf, samples, textOf, type Said } from './place.ts';
import { answerDayOf } from '../../server/src/queries/answerDay.ts';
import { afterAllLogs, lastDay } from '../helpers/lastDay.ts';

/** Forecasts made in this thread. */
const here = vi.hoisted(() => ({ made: 0 }));
vi.mock('../../server/src/cli/checking/forecasts.ts', async (original) => {
  const real = await original<typeof Forecasts>();
  const counted: typeof real.runForecasts = (asked) => {
    here.made += asked.length;
    return real.runForecasts(asked);
  };
  return { ...real, runForecasts: counted };
});

/** A log in which one technique waits for a week while it is learned, and another is practised past its use. */
function practiceOf({ techniques }: MadeRoute, file: string, i: number): string {
  const [often, learned] = techniques.map(({ id }) => id);
  const blocks = [
    [6, learned, 30 + i],
    [8, learned, 40 + i],
    [20, learned, 45],
    [24, often, 330 - i],
    [25, often, 338 - i],
    [26, i % 4 === 1 ? `${often}e` : often, 339 - i],
    [26, often, 339 - i],
  ].map(
    ([day, id, landed]) =>
      `  - start: 2025-01-${String(day).padStart(2, '0')}\n    blocks: [{ technique: ${id}, minutes: 60, landed: [${landed}, 340] }]\n`,
  );
  return `route: ${file}\nsessions:\n${blocks.join('')}`;
}

/** Two months of runs, in the last of which a technique lands too seldom. */
function runsOf(made: MadeRoute, file: string, i: number): string {
  const id = made.techniques[1]!.id;
  return `${makeRuns(40 + i, made, file, 2)}  - { date: 2025-01-27, minutes: 60, runs: 12, finished: 1, tried: { ${id}: [${i % 3}, 12] } }\n`;
}

/** Eight routes, seven of them with logs: one extends a route in another folder, one is two runners'. */
const files: Record<string, string> = {};
const sizes = { lines: 60 };
for (let i = 0; i < 5; i++) {
  const made = makeRoute(40 + i, sizes);
  const file = `r${i}.route.yaml`;
  files[file] = made.text;
  files[`r${i}.practice.yaml`] = practiceOf(made, file, i);
  files[`r${i}.runs.yaml`] = runsOf(made, file, i);
}
const base = makeRoute(60, sizes);
files['shared/base.route.yaml'] = base.text;
files['category/low.route.yaml'] = 'extends: ../shared/base.route.yaml\ncategory: low%\n';
files['category/low.practice.yaml'] = practiceOf(base, 'low.route.yaml', 2);
const two = makeRoute(70, sizes);
files['two.route.yaml'] = two.text;
for (const [i, runner] of ['ann', 'bo'].entries())
  files[`two.${runner}.practice.yaml`] = `runner: ${runner}\n${practiceOf(two, 'two.route.yaml', 3 + i)}`;

/** Routes whose forecasts take no time: for tests of who makes forecasts, not of what is in them. */
const light: Record<string, string> = {};
for (let i = 0; i < 6; i++) light[`r${i}.route.yaml`] = makeRoute(80 + i, { lines: 12 }).text;

let script: string;
let many: string;
beforeAll(async () => {
  script = await programOf('server/src/cli/checking/forecastWorker.ts', folderOf({}));
  many = folderOf(files);
});
beforeEach(() => {
  here.made = 0;
});

const none: WorkerOptions = { threads: 1, minRoutes: 1 };

/** Checks a folder in this process, with worker threads or without. */
async function checked(
  cwd: string,
  options: readonly string[],
  sharing: WorkerOptions,
  tty = false,
): Promise<Said> {
  const parsed = parseArguments(['check', '--as-of', 'last', ...options], commands);
  if (parsed.kind !== 'command') throw new Error(`check does not take ${options.join(' ')}.`);
  let [out, err] = ['', ''];
  const result = await check(
    parsed.request,
    {
      cwd,
      env: {},
      stdout: { write: (text) => void (out += text), isTTY: false },
      stderr: { write: (text) => void (err += text), isTTY: tty },
      now: () => afterAllLogs,
    },
    sharing,
  );
  if (typeof result !== 'number') throw new Error(result.message);
  return { code: result, out, err };
}

/** What was said of all of the files without worker threads, and how many forecasts that took. */
interface Alone extends Said {
  readonly made: number;
}

const saidAlone = new Map<string, Promise<Alone>>();

/** Checks all of the files in this thread; each question is answered once, and the answer kept for other tests. */
function checkedAlone(options: readonly string[], tty = false): Promise<Alone> {
  const key = JSON.stringify([options, tty]);
  const known = saidAlone.get(key);
  if (known) return known;
  const answer = (async (): Promise<Alone> => {
    const before = here.made;
    const said = await checked(many, options, none, tty);
    return { ...said, made: here.made - before };
  })();
  saidAlone.set(key, answer);
  return answer;
}

/** What the model is asked about the projects of a folder. */
async function askedIn(folder: string): Promise<ForecastTask[]> {
  const loaded = await loadFiles(placeOf(folder), []);
  if ('message' in loaded) throw new Error(loaded.message);
  return loaded.select().projects.map((project) => {
    const { own } = runnerFilesOrAll(project);
    const { day } = answerDayOf(own, lastDay);
    return forecastTask(buildModelInput(project, own, { asOf: day }), new Set(project.techniques.keys()));
  });
}

describe('forecasts made by worker threads', () => {
  test.each([
    [[]],
    [['--json']],
    [['--sarif']],
    [['--json', '--as-of', '2025-02-01']],
    [['--json', '--runner', 'ann']],
    [['--json', '--runner', 'bo', '--fail-on', 'hint']],
  ])('say the same with %j', async (options) => {
    const { made, ...alone } = await checkedAlone(options);
    expect(made).toBeGreaterThan(4);
    for (const code of ['lands-too-rarely', 'drilled-past-use', 'gap-in-practice'])
      expect(alone.out).toContain(code);
    here.made = 0;
    expect(await checked(many, options, { threads: 2, minRoutes: 1, script })).toEqual(alone);
    expect(here.made).toBe(0);
  });

  test('say the same of the sample, and of single files', async () => {
    for (const [cwd, ...paths] of [
      [samples],
      [many, 'category/low.practice.yaml', 'r0.route.yaml'],
    ] as const) {
      const alone = await checked(cwd, paths, none);
      here.made = 0;
      expect(await checked(cwd, paths, { threads: 2, minRoutes: 1, script })).toEqual(alone);
      expect(here.made).toBe(0);
    }
  });

  test('leave the same files behind with --fix', async () => {
    const [one, other] = [folderOf(files), folderOf(files)];
    const alone = await checked(one, ['--fix'], none);
    expect(alone.out).toContain('mended');
    here.made = 0;
    expect(await checked(other, ['--fix'], { threads: 2, minRoutes: 1, script })).toEqual(alone);
    expect(here.made).toBe(0);
    for (const name of Object.keys(files)) expect(textOf(other, name)).toBe(textOf(one, name));
  });

  test('keep the line about what is done until they are there', async () => {
    const { made, ...alone } = await checkedAlone([], true);
    expect(made).toBeGreaterThan(4);
    const shared = await checked(many, [], { threads: 2, minRoutes: 1, script }, true);
    // Where reading the files takes a second, a line about that stands before.
    for (const { err } of [alone, shared])
      expect(err).toMatch(/(^|\u001b\[K)Checking \d+ files…\r\u001b\[K$/);
    expect({ ...shared, err: '' }).toEqual({ ...alone, err: '' });
  });

  test('are the same to the last digit, in the order asked', async () => {
    const asked = await askedIn(many);
    const alone = runForecasts(asked);
    expect(alone.some((answer) => answer.size > 3)).toBe(true);
    here.made = 0;
    expect(await runForecastsInPool(asked, 3, script)).toStrictEqual(alone);
    expect(await runForecastsInPool([], 3, script)).toEqual([]);
    expect(here.made).toBe(0);
  });

  test('are made here where there is one thread only, or little to do', async () => {
    const mark = join(folderOf({}), 'started');
    const marking = join(folderOf({}), 'worker.mjs');
    writeFileSync(
      marking,
      `import { writeFileSync } from 'node:fs';\nwriteFileSync(${JSON.stringify(mark)}, '');\nawait import(${JSON.stringify(pathToFileURL(script).href)});\n`,
    );
    await checked(many, [], { threads: 1, minRoutes: 1, script: marking });
    const inAll = here.made;
    await checked(many, [], { threads: 2, minRoutes: 100, script: marking });
    expect(here.made).toBe(2 * inAll);
    expect(existsSync(mark)).toBe(false);
    await checked(many, [], { threads: 2, minRoutes: 6, script: marking });
    expect(here.made).toBe(2 * inAll);
    expect(existsSync(mark)).toBe(true);
  });
});

describe('a worker thread that fails', () => {
  const asked = (act: string) =>
    `import { parentPort } from 'node:worker_threads';\nparentPort.on('message', ({ id }) => ${act});\nparentPort.postMessage('ready');\n`;
  const workers: Readonly<Record<string, string | undefined>> = {
    'is not there': undefined,
    'cannot be loaded': 'throw new Error("Out of luck.");',
    'ends while it loads': 'process.exit(3);',
    'ends when it is asked': asked('process.exit(1)'),
    'answers with an error': asked("id && parentPort.postMessage({ id, error: { message: 'No.' } })"),
  };

  let askedOnce: readonly ForecastTask[];
  beforeAll(async () => {
    askedOnce = await askedIn(folderOf(light));
    expect(askedOnce).toHaveLength(6);
  });

  test.each(Object.entries(workers))('loses nothing: one that %s', async (_, program) => {
    const failing = join(folderOf({}), 'worker.mjs');
    if (program !== undefined) writeFileSync(failing, program);
    const { made, ...alone } = await checkedAlone(['--json']);
    here.made = 0;
    expect(await checked(many, ['--json'], { threads: 2, minRoutes: 1, script: failing })).toEqual(alone);
    expect(here.made).toBe(made);
    // Far more than can be under way at once.
    const often = Array.from({ length: 20 }, () => askedOnce).flat();
    here.made = 0;
    expect(await runForecastsInPool(often, 2, failing)).toHaveLength(often.length);
    expect(here.made).toBe(often.length);
  });

  test('loses nothing in the midst of its work', async () => {
    // Each answers once and ends at the second question.
    const failing = join(folderOf({}), 'worker.mjs');
    writeFileSync(
      failing,
      `import { parentPort } from 'node:worker_threads';\nparentPort.on('message', ({ id }) => id === 2 && process.exit(1));\nawait import(${JSON.stringify(pathToFileURL(script).href)});\n`,
    );
    const asked = await askedIn(many);
    const often = [...asked, ...asked, ...asked, ...asked];
    const once = runForecasts(asked);
    const alone = [...once, ...once, ...once, ...once];
    here.made = 0;
    expect(await runForecastsInPool(often, 2, failing)).toStrictEqual(alone);
    expect(here.made).toBeGreaterThan(0);
    expect(here.made).toBeLessThan(often.length);
  });
});
