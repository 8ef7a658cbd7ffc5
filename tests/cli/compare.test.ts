import { afterAll, describe, expect, test } from 'vitest';
import { makeHostile, repository, type Repository } from '../helpers/repository.ts';
import { folderOf, practice, route, routewright } from './place.ts';

interface Pair {
  id: string;
  a: number | null;
  b: number | null;
  delta: number | null;
}
interface Report {
  asOf: string;
  finalTime: Pair;
  chance: Pair;
  segments: Pair[];
  techniques: Pair[];
}

async function compared(cwd: string, ...argv: string[]) {
  const said = await routewright(cwd, ['compare', '--json', ...argv]);
  return { ...said, report: JSON.parse(said.out) as Report };
}

const week = `route: lanternfall.route.yaml
target: "3:41"
states: { crate-vault: in-run, wall-kick: in-run }
`;
const faster = route.replace('1:32.4', '1:30.4').replace('saves: 3.2', 'saves: 6.4');
const files = {
  'lanternfall.route.yaml': route,
  'lanternfall.practice.yaml': practice,
  'lanternfall.week.yaml': week,
};

const repositories: Repository[] = [];
afterAll(() => {
  for (const one of repositories) one.remove();
});

/** A repository whose first commit holds the slower route, and the disk the faster one. */
function versions(): Repository {
  const repo = repository();
  repositories.push(repo);
  for (const [name, text] of Object.entries(files)) repo.write(name, text);
  repo.commit('Slower');
  repo.write('lanternfall.route.yaml', faster);
  repo.commit('Faster');
  return repo;
}

describe('compare --json', () => {
  test('carries the promised fields, and the differences by hand', async () => {
    const folder = folderOf({ ...files, 'other.route.yaml': faster });
    const { code, err, report } = await compared(folder, 'lanternfall.route.yaml', 'other.route.yaml');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(Object.keys(report)).toEqual([
      ...['asOf', 'a', 'b', 'finalTime', 'target', 'chance', 'finishChance', 'clockPerFinish', 'segments'],
      'techniques',
    ]);
    for (const one of [...report.segments, ...report.techniques])
      expect(Object.keys(one)).toEqual(['id', 'a', 'b', 'delta']);
    const [harbor, stairs] = report.segments;
    const vault = report.techniques.find(({ id }) => id === 'crate-vault')!;
    // By hand: the segment is 2 s shorter, and its technique takes p · 3.2 more off it. The other segment is the same.
    expect(harbor!.delta).toBeCloseTo(-2 - vault.delta!, 1);
    expect(vault.delta).toBeGreaterThan(0.5);
    expect(stairs).toMatchObject({ id: 'stairs', delta: 0 });
    expect(report.finalTime.delta).toBeCloseTo(harbor!.delta!, 1);
    expect(report.chance.b).toBeGreaterThan(report.chance.a!);
  });

  test('a route against itself differs nowhere', async () => {
    const folder = folderOf({ ...files, 'lamp.route.yaml': route });
    const { report } = await compared(folder, 'lanternfall.route.yaml', 'lamp.route.yaml');
    for (const { delta } of [report.finalTime, report.chance, ...report.segments, ...report.techniques])
      expect(delta).toBe(0);
  });

  test('a side that is empty or cannot be read is refused, and no time of zero is shown', async () => {
    const folder = folderOf({ ...files, 'empty.route.yaml': '', 'broken.route.yaml': '{{{\n' });
    for (const other of ['empty', 'broken'])
      for (const sides of [
        ['lanternfall.route.yaml', `${other}.route.yaml`],
        [`${other}.route.yaml`, 'lanternfall.route.yaml'],
      ]) {
        const { code, out, err } = await routewright(folder, ['compare', ...sides]);
        expect({ code, out }).toEqual({ code: 2, out: '' });
        expect(err).toContain(`${other}.route.yaml has no segments that can be read`);
      }
  });

  test('what is on one side only stands as nothing on the other', async () => {
    const shorter = route.replace(/ {2}- \{ id: stairs.*\n/, '').replace(/ {2}wall-kick:.*\n/, '');
    const folder = folderOf({ ...files, 'short.route.yaml': shorter });
    const { report } = await compared(folder, 'lanternfall.route.yaml', 'short.route.yaml');
    expect(report.segments.at(-1)).toMatchObject({ id: 'stairs', b: null });
    expect(report.techniques.find(({ id }) => id === 'wall-kick')).toMatchObject({ b: null });
  });
});

describe('two revisions of one route', () => {
  test('are read from git, with the logs of today on both sides', async () => {
    const { folder } = versions();
    const { code, err, report } = await compared(
      folder,
      'HEAD~1:lanternfall.route.yaml',
      'lanternfall.route.yaml',
    );
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const files2 = folderOf({ ...files, 'other.route.yaml': faster });
    const twin = (await compared(files2, 'lanternfall.route.yaml', 'other.route.yaml')).report;
    expect(report.finalTime).toEqual(twin.finalTime);
    expect(report.segments).toEqual(twin.segments);
    const both = await compared(folder, 'HEAD~1:lanternfall.route.yaml', 'main:lanternfall.route.yaml');
    expect(both.report.finalTime).toEqual(report.finalTime);
  });

  test('a route it extends is taken from the same revision', async () => {
    const repo = versions();
    repo.write(
      'glitchless.route.yaml',
      'game: Lanternfall\ncategory: glitchless\nextends: lanternfall.route.yaml\n',
    );
    repo.commit('A category');
    repo.write('lanternfall.route.yaml', route.replace('1:32.4', '1:40.4'));
    repo.commit('Slower again');
    const { report } = await compared(repo.folder, 'HEAD~1:glitchless.route.yaml', 'glitchless.route.yaml');
    expect(report.segments[0]!.delta).toBeCloseTo(10, 1);
  });

  test('a technique that was renamed since keeps its logs on the former side', async () => {
    const repo = versions();
    const renamed = faster
      .replaceAll('crate-vault', 'box-vault')
      .replace('{ name: Crate vault,', '{ name: Crate vault, was: [crate-vault],');
    repo.write('lanternfall.route.yaml', renamed);
    repo.write('lanternfall.practice.yaml', practice.replaceAll('crate-vault', 'box-vault'));
    repo.write('lanternfall.week.yaml', week.replaceAll('crate-vault', 'box-vault'));
    const { report } = await compared(repo.folder, 'HEAD:lanternfall.route.yaml', 'lanternfall.route.yaml');
    expect(report.finalTime.delta).toBe(0);
  });

  test('a hostile repository is compared, and runs none of its programs', async () => {
    const repo = versions();
    const traces = makeHostile(repo);
    const { code, report } = await compared(
      repo.folder,
      'HEAD~1:lanternfall.route.yaml',
      'HEAD:lanternfall.route.yaml',
    );
    expect(code).toBe(0);
    expect(report.finalTime.delta).toBeLessThan(-2);
    expect(traces.found()).toEqual([]);
  });

  test.each([
    [['HEAD~9:lanternfall.route.yaml', 'lanternfall.route.yaml'], 'git knows no such revision.'],
    [['--upload-pack=x:lanternfall.route.yaml', 'lanternfall.route.yaml'], 'compare has no option'],
    [['HEAD:../x.route.yaml', 'lanternfall.route.yaml'], 'cannot be read'],
    [['HEAD:lanternfall.week.yaml', 'lanternfall.route.yaml'], 'is no route'],
    [['HEAD:gone/x.route.yaml', 'lanternfall.route.yaml'], 'it does not exist'],
    [['lanternfall.route.yaml'], 'Two routes are compared'],
    [['a.route.yaml', 'lanternfall.route.yaml'], 'a.route.yaml cannot be read: it does not exist.'],
    [
      ['HEAD:lanternfall.route.yaml', 'lanternfall.route.yaml', '--with', 'x'],
      'neither route has a technique x',
    ],
  ])('%j exits 2 with a sentence', async (argv, sentence) => {
    const { folder } = versions();
    const { code, out, err } = await routewright(folder, ['compare', ...argv]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(sentence);
  });
});

describe('compare for people', () => {
  test('shows what differs and counts what does not', async () => {
    const folder = folderOf({ ...files, 'other.route.yaml': faster });
    const { out } = await routewright(folder, ['compare', 'lanternfall.route.yaml', 'other.route.yaml']);
    expect(out).toContain('Only A has logs of its own; they serve for both.');
    expect(out).toMatch(/harbor +1:\d\d\.\d +1:\d\d\.\d +−\d\.\d s/);
    expect(out).toContain('1 other segment is the same on both sides.');
    expect(out).toMatch(/Beating 3:41 +/);
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });
});

/** Ten runs of 98 s and 135 s, give or take a second, with nothing tried: enough for times from runs. */
const runs = [
  'route: lanternfall.route.yaml',
  'runs:',
  ...Array.from({ length: 10 }, (_, i) => {
    const [harbor, stairs] = [97 + (i % 3), 134 + (i % 3)];
    return (
      `  - { start: 2026-10-06T20:${10 + i}, total: ${harbor + stairs}, times: { harbor: ${harbor}, stairs: ${stairs} }, ` +
      'tried: { crate-vault: [0, 0], wall-kick: [0, 0] } }'
    );
  }),
  '',
].join('\n');

describe('times from runs', () => {
  const shorter = route.replace('1:32.4', '1:30.4');
  const withRuns = {
    ...files,
    'lanternfall.runs.yaml': runs,
    'same.route.yaml': route,
    'short.route.yaml': shorter,
  };

  test('a route has the same expected time whatever it is compared with, and the one that odds gives', async () => {
    const folder = folderOf(withRuns);
    const own = 'lanternfall.route.yaml';
    const { out } = await routewright(folder, ['odds', own, '--json']);
    const { finalTime } = JSON.parse(out) as { finalTime: number };
    const times: (number | null)[] = [];
    for (const other of ['same.route.yaml', 'short.route.yaml']) {
      times.push((await compared(folder, own, other)).report.finalTime.a);
      times.push((await compared(folder, other, own)).report.finalTime.b);
    }
    expect(times).toEqual([finalTime, finalTime, finalTime, finalTime]);
    // About 98 and 135 s without techniques; the route says 92.4 and 130.
    expect(finalTime).toBeGreaterThan(228);
  });

  test('runs along one route do not hide what the other changes', async () => {
    const folder = folderOf(withRuns);
    const { report } = await compared(folder, 'lanternfall.route.yaml', 'short.route.yaml');
    expect(report.segments[0]!.delta).toBeCloseTo(-2, 1);
    expect(report.segments[1]!.delta).toBe(0);
    const same = await compared(folder, 'lanternfall.route.yaml', 'same.route.yaml');
    expect(same.report.finalTime.delta).toBe(0);
  });

  test('a former revision has the runs of today, too', async () => {
    const repo = versions();
    repo.write('lanternfall.runs.yaml', runs);
    const { report } = await compared(repo.folder, 'HEAD~1:lanternfall.route.yaml', 'lanternfall.route.yaml');
    const { out } = await routewright(repo.folder, ['odds', 'lanternfall.route.yaml', '--json']);
    expect(report.finalTime.b).toBe((JSON.parse(out) as { finalTime: number }).finalTime);
    expect(report.finalTime.a).toBeGreaterThan(report.finalTime.b! + 2);
  });

  test('the page says what the times of each side rest on', async () => {
    const folder = folderOf(withRuns);
    const { out } = await routewright(folder, ['compare', 'lanternfall.route.yaml', 'short.route.yaml']);
    const text = out.replace(/\s+/g, ' ');
    expect(text).toContain('What the segment times rest on A 2 of 2 from runs. B 2 of 2 from runs.');
    expect(text).toContain('1 time from runs is moved by what this route changes of the one that was run.');
    const bare = folderOf({ ...files, 'other.route.yaml': faster });
    const page = await routewright(bare, ['compare', 'lanternfall.route.yaml', 'other.route.yaml']);
    expect(page.out.replace(/\s+/g, ' ')).toContain('A all from the route. B all from the route.');
  });
});

describe('changed techniques that nobody tries', () => {
  const left = {
    ...files,
    'lanternfall.week.yaml': week.replace('crate-vault: in-run', 'crate-vault: learning'),
  };
  const page = async (other: string) => {
    const folder = folderOf({ ...left, 'other.route.yaml': other });
    return (await routewright(folder, ['compare', 'lanternfall.route.yaml', 'other.route.yaml'])).out;
  };

  test('are listed, though no expected time differs', async () => {
    const out = await page(route.replace('saves: 3.2', 'saves: 6.4'));
    expect(out).toContain('No technique that is tried differs.');
    expect(out).toContain('Changed, but tried by neither side: Crate vault.');
  });

  test('also where only one side has them', async () => {
    const more = `${route}  lamp-hop: { name: Lamp hop, difficulty: 3, saves: 1, loses: 1 }\n`;
    expect(await page(more)).toContain('Changed, but tried by neither side: Lamp hop (only in B).');
  });

  test('are not those that stay as they are', async () => {
    expect(await page(route)).not.toContain('Changed, but');
  });
});
