import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { folderOf, routewright, textOf } from './place.ts';

describe('new', () => {
  test.each([
    [['start']],
    [['start', '--game', 'Lanternfall', '--category', 'low%: "no oil" #2']],
    [['start', '--game', '灯篭の滝']],
    [['start', '--game', '../../etc']],
    [['start', '--game', '%%%']],
  ])('%j: writes files that pass check without any finding', async (argv) => {
    const folder = folderOf({});
    const { code, out } = await routewright(folder, ['new', ...argv, '--json']);
    expect(code).toBe(0);
    const { files } = JSON.parse(out) as { files: string[] };
    expect(files.map((name) => name.replace(/^start\/[^/]*\.(\w+)\.yaml$/, '$1'))).toEqual([
      'route',
      'practice',
      'runs',
      'week',
    ]);
    expect(
      readdirSync(join(folder, 'start'))
        .map((name) => `start/${name}`)
        .sort(),
    ).toEqual([...files].sort());
    const checked = await routewright(folder, ['check', '--json', '--fail-on', 'hint']);
    expect(JSON.parse(checked.out)).toEqual({ findings: [] });
    expect(checked.code).toBe(0);
  });

  test('what it writes can be ranked', async () => {
    const folder = folderOf({});
    await routewright(folder, ['new']);
    const { code, out } = await routewright(folder, ['rank']);
    expect(code).toBe(0);
    expect(out).toContain('Ledge skip');
    expect(out).toContain('Nothing is logged yet');
  });

  test('overwrites nothing, and writes nothing where one file is in the way', async () => {
    const folder = folderOf({ 'my-game.week.yaml': 'mine' });
    const { code, out, err } = await routewright(folder, ['new']);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('my-game.week.yaml exists already');
    expect(textOf(folder, 'my-game.week.yaml')).toBe('mine');
    expect(existsSync(join(folder, 'my-game.route.yaml'))).toBe(false);
  });

  test('says so where it cannot write', async () => {
    const folder = folderOf({ blocked: 'a file, no folder' });
    const { code, err } = await routewright(folder, ['new', 'blocked']);
    expect(code).toBe(2);
    expect(err).toContain('blocked cannot be written to');
  });
});
