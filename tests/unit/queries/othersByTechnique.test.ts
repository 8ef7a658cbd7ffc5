import { beforeAll, describe, expect, it } from 'vitest';
import { MemoCache } from '../../../server/src/incremental/memoCache.ts';
import type { OthersWord } from '../../../server/src/model/core/rated.ts';
import { addByRating } from '../../../server/src/model/pool/addByRating.ts';
import { pooledProperties } from '../../../server/src/model/pool/addUp.ts';
import { commonShares } from '../../../server/src/model/pool/commonParts.ts';
import { buildModelInput } from '../../../server/src/queries/modelInput.ts';
import { poolContribution, type PoolContribution } from '../../../server/src/queries/poolContribution.ts';

import { runnerFilesOf, type RunnerFiles } from '../../../server/src/workspace/runnerFiles.ts';
import type { Project } from '../../../server/src/workspace/project.ts';
import { workspaceOf } from '../rules/findingsOf.ts';

const route = `game: Lanternfall
category: any%
segments: [{ id: harbor, time: 1:30, techniques: [crate-vault, wall-kick, lamp-hop] }]
techniques:
  crate-vault: { difficulty: 3, saves: 3, loses: 1 }
  wall-kick: { difficulty: 5, saves: 2, loses: 1 }
  lamp-hop: { difficulty: 2, saves: 1, loses: 1 }
`;

const runners = ['Ada', 'Bo', 'Cy', 'Di'];

/** Six evenings of two techniques; the runners differ in how well they land, and in the minute at which they begin. */
function practiceOf(runner: string): string {
  const number = runners.indexOf(runner);
  const sessions = [5, 6, 7, 8, 9, 10].map((day, i) => {
    const landed = [Math.min(60, 2 + 6 * i + 5 * number), Math.min(60, 1 + 2 * i + 3 * number)];
    return `  - start: 2026-10-${String(day).padStart(2, '0')}T19:3${number}
    blocks:
      - { technique: crate-vault, minutes: 20, landed: [${landed[0]}, 60] }
      - { technique: wall-kick, minutes: 20, landed: [${landed[1]}, 60] }`;
  });
  return `route: a.route.yaml\nrunner: ${runner}\nsessions:\n${sessions.join('\n')}\n`;
}

const today = Date.UTC(2026, 9, 12) / 86_400_000;

/** The text of a pool of these parts. */
function poolOf(parts: readonly PoolContribution[], model = 1): string {
  const sum = addByRating(
    parts.map(({ techniques }) => techniques),
    () => undefined,
  ).techniques;
  const written = {
    quarter: 'quarter',
    half: 'half',
    threeQuarters: 'three_quarters',
    nearlyAll: 'nearly_all',
  };
  const techniques = [...sum].map(([id, technique]) => {
    const properties = pooledProperties.flatMap((property) => {
      const numbers = technique[property];
      if (numbers === undefined) return [];
      const lists = commonShares.map(({ name }) => `${written[name]}: [${numbers[name].join(', ')}]`);
      return [`    ${property}: { ${lists.join(', ')} }`];
    });
    return `  ${id}:\n    runners: ${technique.runners}\n    difficulty: ${technique.difficulty}\n${properties.join('\n')}`;
  });
  const digests = parts.map(({ digest }) => `"${digest}"`).join(', ');
  return `route: a.route.yaml\nmodel: ${model}\nday: 2026-10-10\nrunners: [${digests}]\ntechniques:\n${techniques.join('\n')}\n`;
}

async function projectWith(files: Readonly<Record<string, string>>): Promise<Project> {
  const logs = Object.fromEntries(runners.map((runner) => [`${runner}.practice.yaml`, practiceOf(runner)]));
  return (await workspaceOf({ 'a.route.yaml': route, ...logs, ...files })).groups().projects[0]!;
}

const ownOf = (project: Project, runner: string): RunnerFiles => {
  const own = runnerFilesOf(project, runner);
  if ('runners' in own) throw new Error(`${runner} has no files`);
  return own;
};

/** What a runner is told of each technique. */
function toldTo(project: Project, runner: string): Map<string, OthersWord | undefined> {
  const input = buildModelInput(project, ownOf(project, runner), { asOf: today, memory: new MemoCache() });
  return new Map(input.route.techniques.map(({ id, others }) => [id, others]));
}

let parts: PoolContribution[];
beforeAll(async () => {
  const project = await projectWith({});
  parts = runners.map((runner) => poolContribution(project, ownOf(project, runner), today)!);
});

describe('what a pool says to a runner', () => {
  it('is the same with and without the own part in it', async () => {
    const without = toldTo(await projectWith({ 'a.pool.yaml': poolOf(parts.slice(1)) }), 'Ada');
    const within = toldTo(await projectWith({ 'a.pool.yaml': poolOf(parts) }), 'Ada');
    expect(within.get('crate-vault')).toEqual(without.get('crate-vault'));
    expect(within).toEqual(without);
    expect(within.get('crate-vault')?.runners).toBe(3);
    // Nobody practised it.
    expect(within.get('lamp-hop')).toBeUndefined();
  });

  it('counts the own part of the day on which the pool was made, whatever was logged since', async () => {
    const later = `${practiceOf('Ada')}  - start: 2026-10-11T19:30
    blocks: [{ technique: crate-vault, minutes: 20, landed: [60, 60] }]
`;
    const pool = poolOf(parts);
    const then = toldTo(await projectWith({ 'a.pool.yaml': pool }), 'Ada');
    const now = toldTo(await projectWith({ 'a.pool.yaml': pool, 'Ada.practice.yaml': later }), 'Ada');
    expect(now).toEqual(then);
  });

  it('is nothing where the week file switches it off, or the curves are others', async () => {
    const pool = poolOf(parts);
    const week = (text: string) =>
      `route: a.route.yaml\nrunner: Ada\ndays: { mon: 60 }\nmodel: { pool: ${text} }\n`;
    const off = await projectWith({ 'a.pool.yaml': pool, 'Ada.week.yaml': week('off') });
    expect([...toldTo(off, 'Ada').values()]).toEqual([undefined, undefined, undefined]);
    const on = await projectWith({ 'a.pool.yaml': pool, 'Ada.week.yaml': week('on') });
    expect(toldTo(on, 'Ada').get('wall-kick')?.runners).toBe(3);
    const other = await projectWith({ 'a.pool.yaml': poolOf(parts, 99) });
    expect([...toldTo(other, 'Ada').values()]).toEqual([undefined, undefined, undefined]);
  });

  it('follows a technique to its id of today', async () => {
    const renamed = route
      .replaceAll('crate-vault', 'box-vault')
      .replace('difficulty: 3,', 'difficulty: 3, was: [crate-vault],');
    const pool = poolOf(parts);
    const before = toldTo(await projectWith({ 'a.pool.yaml': pool }), 'Ada').get('crate-vault');
    const after = toldTo(await projectWith({ 'a.route.yaml': renamed, 'a.pool.yaml': pool }), 'Ada');
    expect(after.get('box-vault')).toEqual(before);
  });
});

describe('a part of a pool', () => {
  it('has the digest of the first five entries, and none where there are fewer', async () => {
    const project = await projectWith({
      'Ada.practice.yaml': practiceOf('Ada').split('  - start').slice(0, 3).join('  - start'),
    });
    expect(poolContribution(project, ownOf(project, 'Ada'), today)).toBeUndefined();
    expect(new Set(parts.map(({ digest }) => digest)).size).toBe(4);
    const longer = await projectWith({
      'Bo.practice.yaml': `${practiceOf('Bo')}  - { start: 2026-10-11T19:30, blocks: [{ technique: lamp-hop, minutes: 20, landed: [9, 60] }] }\n`,
    });
    const again = poolContribution(longer, ownOf(longer, 'Bo'), today)!;
    expect(again.digest).toBe(parts[1]!.digest);
    expect([...again.techniques.keys()].sort()).toEqual(['crate-vault', 'lamp-hop', 'wall-kick']);
  });

  it('does not depend on what the runner wrote into their week file', async () => {
    const week =
      'route: a.route.yaml\nrunner: Ada\ndays: { mon: 60 }\nmodel: { unit_practice: 40, half_life: 20 }\n';
    const project = await projectWith({ 'Ada.week.yaml': week });
    expect(poolContribution(project, ownOf(project, 'Ada'), today)).toEqual(parts[0]);
  });
});
