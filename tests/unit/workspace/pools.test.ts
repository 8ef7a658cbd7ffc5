import { describe, expect, it } from 'vitest';
import { ownPools } from '../../../server/src/workspace/groupFiles.ts';
import { fileName } from '../../../server/src/workspace/fileName.ts';
import type { Project } from '../../../server/src/workspace/project.ts';
import { poolText } from '../../helpers/poolFiles.ts';
import { folder, workspaceOf } from '../rules/findingsOf.ts';
import { plainRoute } from '../rules/marked.ts';

const extension = (base: string) => `game: Lanternfall\ncategory: all lamps\nextends: ${base}\n`;
const pool = (route: string) => poolText({ route });
const names = (files: readonly { readonly uri: string }[]) => files.map(({ uri }) => fileName(uri));

async function projectsOf(files: Readonly<Record<string, string>>): Promise<Record<string, Project>> {
  const { projects } = (await workspaceOf(files)).groups();
  return Object.fromEntries(projects.map((project) => [fileName(project.route.uri), project]));
}

describe('pools', () => {
  it('belong to the route that they name, and to those that extend it and have none', async () => {
    const files = {
      'base.route.yaml': plainRoute,
      'a.route.yaml': extension('base.route.yaml'),
      'b.route.yaml': extension('a.route.yaml'),
      'c.route.yaml': extension('a.route.yaml'),
      'base.pool.yaml': pool('base.route.yaml'),
      'b.pool.yaml': pool('b.route.yaml'),
    };
    const {
      'base.route.yaml': base,
      'a.route.yaml': a,
      'b.route.yaml': b,
      'c.route.yaml': c,
    } = await projectsOf(files);
    expect([base, a, b, c].map((project) => names(project!.pools))).toEqual([
      ['base.pool.yaml'],
      ['base.pool.yaml'],
      ['b.pool.yaml'],
      ['base.pool.yaml'],
    ]);
    expect([base, a, b, c].map((project) => ownPools(project!).length)).toEqual([1, 0, 1, 0]);
  });

  it('are asked about in the project of their own route first', async () => {
    const workspace = await workspaceOf({
      'a.route.yaml': extension('base.route.yaml'),
      'base.route.yaml': plainRoute,
      'base.pool.yaml': pool('base.route.yaml'),
    });
    const uri = `${folder}/base.pool.yaml`;
    expect(workspace.projectsOf(uri)).toHaveLength(2);
    expect(fileName(workspace.projectOf(uri)!.route.uri)).toBe('base.route.yaml');
  });

  it('keep their objects while another file is edited', async () => {
    const workspace = await workspaceOf({ 'a.route.yaml': plainRoute, 'a.pool.yaml': pool('a.route.yaml') });
    const [before] = workspace.groups().projects;
    workspace.edit(`${folder}/a.route.yaml`, plainRoute.replace('restart: 14', 'restart: 15'));
    const [after] = workspace.groups().projects;
    expect(after).not.toBe(before);
    expect(after!.pools[0]).toBe(before!.pools[0]);
  });

  it('are strays where their route is missing', async () => {
    const { strays } = (await workspaceOf({ 'a.pool.yaml': pool('b.route.yaml') })).groups();
    expect(strays.map(({ file, why }) => [fileName(file.uri), why])).toEqual([['a.pool.yaml', 'missing']]);
  });
});
