import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { poolRepository, poolRouteName, poolRouteText, runnerFolders } from '../helpers/poolRunners.ts';
import { folderOf } from './place.ts';
import { answer, poolOf, run, techniquesOf } from './poolCommand.ts';

const habits = { nights: 6 };
/** Pools of these runners. */
let pools: Readonly<Record<'abc' | 'def' | 'abcd' | 'cdef' | 'abcdef', string>>;
/** A digest of each runner stands in a pool's list. */
const runnersIn = (pool: string): number => pool.match(/^runners: .*$/m)![0].split(',').length;

beforeAll(async () => {
  const of = (seeds: readonly number[]) => poolOf(folderOf(poolRepository(seeds, habits)), '.');
  pools = {
    abc: await of([1, 2, 3]),
    def: await of([4, 5, 6]),
    abcd: await of([1, 2, 3, 4]),
    cdef: await of([3, 4, 5, 6]),
    abcdef: await of([1, 2, 3, 4, 5, 6]),
  };
});

/** A folder with the route and these pools, by their names. */
function withPools(...names: readonly (keyof typeof pools)[]): string {
  return folderOf({
    [poolRouteName]: poolRouteText,
    ...Object.fromEntries(names.map((name) => [`${name}.pool.yaml`, pools[name]])),
  });
}

describe('pools put together', () => {
  test('are the pool of all their runners, in any order', async () => {
    const folder = withPools('abc', 'def');
    const merged = await poolOf(folder, 'abc.pool.yaml', 'def.pool.yaml');
    expect(await poolOf(folder, 'def.pool.yaml', 'abc.pool.yaml')).toBe(merged);
    expect(runnersIn(merged)).toBe(6);
    const { techniques } = await answer(folder, 'abc.pool.yaml', 'def.pool.yaml');
    const tells = (pool: string, id: string) => pool.includes(`\n  ${id}: #`);
    const both = techniques.filter(
      ({ technique }) => tells(pools.abc, technique) && tells(pools.def, technique),
    );
    expect(both.length).toBeGreaterThan(0);
    for (const { technique } of both) {
      const numbers = (pool: string) =>
        new RegExp(`^  ${technique}: .*\n((?: {4}.*\n)+)`, 'm').exec(pool)![1];
      expect(numbers(merged)).toBe(numbers(pools.abcdef));
    }
  });

  test('have the day of the latest, or of today where logs count as well', async () => {
    const folder = withPools('abc', 'def');
    const early = pools.abc.replace('day: 2026-11-30', 'day: 2026-10-01');
    writeFileSync(join(folder, 'abc.pool.yaml'), early);
    expect(await poolOf(folder, 'abc.pool.yaml')).toContain('day: 2026-10-01\n');
    expect(await poolOf(folder, 'abc.pool.yaml', 'def.pool.yaml')).toContain('day: 2026-11-30\n');
    const withLogs = folderOf({ ...poolRepository([4, 5, 6], habits), 'abc.pool.yaml': early });
    expect(await poolOf(withLogs, '.', 'abc.pool.yaml', '--as-of', '2026-11-01')).toContain(
      'day: 2026-11-01\n',
    );
  });

  test('count once: one that is given twice, and one whose runners are all in another', async () => {
    const folder = withPools('abc', 'abcd');
    writeFileSync(join(folder, 'copy.pool.yaml'), pools.abc);
    const { runners, notCounted } = await answer(folder, 'abc.pool.yaml', 'copy.pool.yaml');
    expect(runners).toBe(3);
    expect(notCounted).toEqual([
      {
        source: 'copy.pool.yaml',
        reason: 'It has the same runners as abc.pool.yaml, which counts in its stead.',
      },
    ]);
    expect(techniquesOf(await poolOf(folder, 'abc.pool.yaml', 'copy.pool.yaml'))).toBe(
      techniquesOf(pools.abc),
    );
    const larger = await answer(folder, 'abc.pool.yaml', 'abcd.pool.yaml');
    expect(larger.runners).toBe(4);
    expect(larger.notCounted).toEqual([
      {
        source: 'abc.pool.yaml',
        reason: 'All its runners are in abcd.pool.yaml, which counts in its stead.',
      },
    ]);
  });

  test('cannot be where they share some of their runners, but not all', async () => {
    const folder = withPools('abcd', 'cdef');
    const { code, out, err } = await run(folder, 'abcd.pool.yaml', 'cdef.pool.yaml');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toBe(
      '2 runners are in both abcd.pool.yaml and cdef.pool.yaml, and others in one of them only: what each added to the sums ' +
        'cannot be told apart. Make one pool from the logs: routewright pool FOLDER\n',
    );
    // With the logs of all who are in one of them, that one is not needed.
    const logs = folderOf({
      ...poolRepository([3, 4, 5, 6], habits),
      'abcd.pool.yaml': pools.abcd,
      'cdef.pool.yaml': pools.cdef,
    });
    const { runners, notCounted } = await answer(logs, '.', 'abcd.pool.yaml', 'cdef.pool.yaml');
    expect(runners).toBe(6);
    expect(notCounted.map(({ source }) => source)).toEqual([
      'cdef.pool.yaml',
      'runners/r3/lanternfall.practice.yaml',
      'runners/r4/lanternfall.practice.yaml',
    ]);
  });
});

describe('a pool and logs', () => {
  test('count a runner once who is in both', async () => {
    const folder = folderOf({ ...poolRepository([3, 4, 5, 6], habits), 'abc.pool.yaml': pools.abc });
    const { runners, notCounted } = await answer(folder, '.', 'abc.pool.yaml');
    expect(runners).toBe(6);
    expect(notCounted).toEqual([
      {
        source: 'runners/r3/lanternfall.practice.yaml',
        reason: 'This runner is in abc.pool.yaml already, and counts there.',
      },
    ]);
    expect(runnersIn(await poolOf(folder, '.', 'abc.pool.yaml'))).toBe(6);
  });

  test('of the same runners are the logs', async () => {
    const folder = folderOf({ ...poolRepository([1, 2, 3, 4], habits), 'abc.pool.yaml': pools.abc });
    const { notCounted } = await answer(folder, '.', 'abc.pool.yaml');
    expect(notCounted).toEqual([
      { source: 'abc.pool.yaml', reason: 'The logs of all its runners are here, and count in its stead.' },
    ]);
    expect(await poolOf(folder, '.', 'abc.pool.yaml')).toBe(pools.abcd);
  });

  test('are not added up where the technique was rated otherwise: most runners decide, and it is said', async () => {
    const rated = poolRouteText.replace('crate-vault: { difficulty: 4,', 'crate-vault: { difficulty: 6,');
    const folder = folderOf({
      [poolRouteName]: rated,
      ...runnerFolders([7, 8, 9, 10], { ...habits, techniques: ['crate-vault', 'wall-kick'] }),
      'abcdef.pool.yaml': pools.abcdef,
    });
    const { techniques, leftOut, runners } = await answer(folder, '.', 'abcdef.pool.yaml');
    const count = Number(/^ {2}crate-vault: .*\n {4}runners: (\d+)$/m.exec(pools.abcdef)![1]);
    const [most, fewer] = count > 4 ? [count, 4] : [4, count];
    expect(techniques.find(({ technique }) => technique === 'crate-vault')).toMatchObject({
      runners: most,
      rated: 6,
    });
    expect(leftOut).toContainEqual({
      technique: 'crate-vault',
      runners: fewer,
      reason: `${fewer} runners had it rated ${count > 4 ? 6 : 4}, and more runners ${count > 4 ? 4 : 6}: counts at different ratings cannot be added up.`,
    });
    expect(runners).toBe(10);
    // At the same rating they are.
    const same = folderOf({
      ...poolRepository([7, 8, 9, 10], { ...habits, techniques: ['crate-vault', 'wall-kick'] }),
      'abcdef.pool.yaml': pools.abcdef,
    });
    expect((await answer(same, '.', 'abcdef.pool.yaml')).techniques[0]).toMatchObject({ runners: count + 4 });
  });
});

describe('a pool that is not used', () => {
  /** What is said of a pool beside one that is right. */
  async function saidOf(text: string): Promise<{ code: number; err: string; runners: number }> {
    const folder = withPools('abc');
    writeFileSync(join(folder, 'bad.pool.yaml'), text);
    const { code, err, out } = await run(folder, 'abc.pool.yaml', 'bad.pool.yaml', '--json');
    const { runners, notCounted } = JSON.parse(out) as Awaited<ReturnType<typeof answer>>;
    expect(notCounted).toEqual([
      { source: 'bad.pool.yaml', reason: 'Nothing of it is used, because of what is wrong with it.' },
    ]);
    return { code, err, runners };
  }

  test('is one of other curves', async () => {
    expect(await saidOf(pools.def.replace('model: 1 ', 'model: 2 '))).toEqual({
      code: 1,
      runners: 3,
      err: expect.stringMatching(
        /^bad\.pool\.yaml:4:8 {2}warning {2}This pool was made by a newer Routewright/,
      ) as string,
    });
  });

  test.each([
    [
      'a mistake in its text',
      (text: string) => text.replace('      half: [', '      half: ['.slice(0, -1)),
      'error',
    ],
    ['a list that is too short', (text: string) => text.replace(/quarter: \[-?\d+, /, 'quarter: ['), 'error'],
    [
      'a runner who is named twice',
      (text: string) => text.replace(/"(\w{12})", "\w{12}"/, '"$1", "$1"'),
      'warning',
    ],
    [
      'more runners of a technique than it names',
      (text: string) => text.replace(/^ {4}runners: 3$/m, '    runners: 4'),
      'warning',
    ],
    [
      'numbers that three runners cannot come to',
      (text: string) => text.replace(/quarter: \[-?\d+,/, 'quarter: [-241,'),
      'error',
    ],
    ['a key that there is not', (text: string) => `${text}note: hello\n`, 'error'],
    ['no runners', (text: string) => text.replace(/^runners: .*\n/m, ''), 'error'],
  ])('is one with %s', async (_, spoil, severity) => {
    const text = spoil(pools.def);
    expect(text).not.toBe(pools.def);
    const { code, err, runners } = await saidOf(text);
    expect({ code, runners }).toEqual({ code: 1, runners: 3 });
    expect(err).toMatch(new RegExp(`^bad\\.pool\\.yaml:\\d+:\\d+  ${severity}  .+`));
  });

  test('is one that wants to be everything to everybody', async () => {
    const numbers = (count: number) => `[${Array<number>(count).fill(1_000_000).join(', ')}]`;
    const lists = ['quarter', 'half', 'three_quarters', 'nearly_all'].map(
      (share) => `${share}: ${numbers(25)}`,
    );
    const hostile = `route: ${poolRouteName}
model: 1
day: 2026-10-05
runners: [${['a', 'b', 'c'].map((letter) => `"${letter.repeat(12)}"`).join(', ')}]
techniques:
  crate-vault: { runners: 3, difficulty: 4, midway: { ${lists.join(', ')} } }
  __proto__: { runners: 3, difficulty: 4, midway: { ${lists.join(', ')} } }
`;
    const { code, runners } = await saidOf(hostile);
    expect({ code, runners }).toEqual({ code: 1, runners: 3 });
    expect('crate-vault' in {}).toBe(false);
  });

  test('leaves the rest as it would be alone, and nothing of keys of its own gets into the sum', async () => {
    const own = pools.abc.replace('techniques:', 'x-note: from Quillon-1 on 2026-09-12\ntechniques:');
    const folder = withPools('abc');
    writeFileSync(join(folder, 'own.pool.yaml'), own);
    const alone = await poolOf(folder, 'abc.pool.yaml');
    expect(await poolOf(folder, 'own.pool.yaml')).toBe(alone);
    writeFileSync(join(folder, 'bad.pool.yaml'), 'route: lanternfall.route.yaml\n[');
    const { code } = await run(folder, 'abc.pool.yaml', 'bad.pool.yaml', '--output', 'new.pool.yaml');
    expect(code).toBe(1);
  });

  test('is one of another route, and that ends it', async () => {
    const folder = withPools('abc');
    writeFileSync(join(folder, 'other.pool.yaml'), pools.def.replace(poolRouteName, 'other.route.yaml'));
    expect(await run(folder, 'abc.pool.yaml', 'other.pool.yaml')).toEqual({
      code: 2,
      out: '',
      err: 'other.pool.yaml is the pool of other.route.yaml, and not of lanternfall.route.yaml. What is added up must be of one route.\n',
    });
  });

  test('tells of a technique that the route does not have: the others count', async () => {
    const folder = withPools();
    writeFileSync(join(folder, 'abc.pool.yaml'), pools.abc.replace('\n  crate-vault:', '\n  box-vault:'));
    const { leftOut, techniques } = await answer(folder, 'abc.pool.yaml');
    expect(leftOut).toContainEqual({
      technique: 'box-vault',
      runners: 3,
      reason:
        'abc.pool.yaml tells of it, and the route has no technique of this id that is not told of already.',
    });
    expect(techniques.length).toBeGreaterThan(0);
  });
});

describe('the route', () => {
  test('is found from a pool beside it, or named', async () => {
    const folder = folderOf({
      [poolRouteName]: poolRouteText,
      'got/abc.pool.yaml': pools.abc,
    });
    expect(await run(folder, 'got/abc.pool.yaml')).toEqual({
      code: 2,
      out: '',
      err: 'There is no route in got/abc.pool.yaml, and no log there names one that is in reach. Name it: --route FILE.route.yaml\n',
    });
    expect((await answer(folder, 'got/abc.pool.yaml', '--route', poolRouteName)).runners).toBe(3);
    expect((await answer(folder, 'got/abc.pool.yaml', '.')).runners).toBe(3);
    expect(await run(folder, 'got/abc.pool.yaml', '--route', 'lantern.route.yaml')).toMatchObject({
      code: 2,
      err: 'There is no route lantern.route.yaml.\n',
    });
  });

  test('has to say the same of the techniques in all copies, or one is to be named', async () => {
    const folder = folderOf({
      ...poolRepository([1, 2, 3, 4], habits),
      [`later/${poolRouteName}`]: poolRouteText.replace('difficulty: 4', 'difficulty: 5'),
    });
    const { code, err } = await run(folder, '.');
    expect(code).toBe(2);
    expect(err).toContain('The copies of lanternfall.route.yaml do not say the same of the techniques: ');
    const later = await answer(folder, '.', '--route', `later/${poolRouteName}`);
    expect(later.techniques.find(({ technique }) => technique === 'crate-vault')!.rated).toBe(5);
    const now = await answer(folder, '.', '--route', poolRouteName);
    expect(now.techniques.find(({ technique }) => technique === 'crate-vault')!.rated).toBe(4);
  });

  test('is nothing else than a folder’s or a pool’s', async () => {
    const folder = folderOf(poolRepository([1, 2, 3], habits));
    for (const path of [poolRouteName, 'runners/r1/lanternfall.practice.yaml'])
      expect((await run(folder, path)).err).toContain(`${path} is neither a folder nor a pool.`);
    expect((await run(folder, 'nowhere')).err).toMatch(/^nowhere cannot be read: /);
  });
});
