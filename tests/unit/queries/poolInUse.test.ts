import { describe, expect, it } from 'vitest';
import { poolInUse, pooledTechniques } from '../../../server/src/queries/poolInUse.ts';
import { fileName } from '../../../server/src/workspace/fileName.ts';
import type { Project } from '../../../server/src/workspace/project.ts';
import { digests, poolText, type PoolParts } from '../../helpers/poolFiles.ts';
import { workspaceOf } from '../rules/findingsOf.ts';
import { plainRoute } from '../rules/marked.ts';

const pool = (parts: PoolParts) => poolText({ route: 'a.route.yaml', ...parts });

async function projectOf(files: Readonly<Record<string, string>>): Promise<Project> {
  return (await workspaceOf(files)).groups().projects[0]!;
}

describe('the pool in use', () => {
  async function used(...parts: readonly PoolParts[]): Promise<string | undefined> {
    const files = parts.map((one, at) => [`${'abc'[at]}.pool.yaml`, pool(one)] as const);
    const project = await projectOf({
      'a.route.yaml': plainRoute,
      ...Object.fromEntries(files),
    });
    const found = poolInUse(project);
    return found && fileName(found.uri);
  }

  it('is that of most runners, of these the latest, of these the first by name', async () => {
    expect(await used()).toBeUndefined();
    expect(await used({ runners: digests(3) }, { runners: digests(4) })).toBe('b.pool.yaml');
    expect(await used({ day: '2026-10-05' }, { day: '2026-10-06' })).toBe('b.pool.yaml');
    expect(await used({}, {})).toBe('a.pool.yaml');
  });

  it('is none of other curves, and may be of any day', async () => {
    expect(await used({ model: 2 })).toBeUndefined();
    expect(await used({ model: 2, runners: digests(9) }, { runners: digests(3) })).toBe('b.pool.yaml');
    expect(await used({ day: '2999-12-31' })).toBe('a.pool.yaml');
    expect(await used({ day: '2026-02-30' })).toBe('a.pool.yaml');
  });

  it('speaks of techniques by their ids of today', async () => {
    const count = { difficulty: 3, brief: true };
    const techniques = {
      'box-jump': { ...count, runners: 3 },
      'crate-vault': { ...count, runners: 4 },
      'old-hop': { ...count, runners: 5 },
      'older-hop': { ...count, runners: 6 },
      'never-there': { ...count, runners: 7 },
    };
    const route = `${plainRoute.replace('difficulty: 3,', 'difficulty: 3, was: [box-jump],')}  lamp-hop: { difficulty: 2, saves: 1, was: [old-hop, older-hop] }\n`;
    const project = await projectOf({
      'a.route.yaml': route,
      'a.pool.yaml': pool({ techniques }),
    });
    const found = pooledTechniques(project, poolInUse(project)!);
    expect([...found].map(([id, pooled]) => [id, pooled.id, pooled.runners])).toEqual([
      ['crate-vault', 'crate-vault', 4],
      ['lamp-hop', 'old-hop', 5],
    ]);
    expect(found.get('lamp-hop')).toBe(project.pools[0]!.document.techniques[2]);
  });
});
