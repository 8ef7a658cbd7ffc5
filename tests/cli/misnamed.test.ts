import { expect, test } from 'vitest';
import { folderOf, practice, route, routewright } from './place.ts';

const misnamed = {
  'b/lanternfall.route.yaml': route,
  'b/lanternfall.practise.yaml': practice,
  'b/routes.yaml': 'index: { path: / }\n',
};

async function findings(folder: string, ...argv: string[]) {
  const { code, out } = await routewright(folder, ['check', ...argv, '--json']);
  const { findings: all } = JSON.parse(out) as {
    findings: { file: string; code: string; message: string }[];
  };
  return { code, all: all.filter((one) => one.code === 'misnamed-file') };
}

test('a file whose name is nearly right is a finding, in words and as JSON', async () => {
  const folder = folderOf(misnamed);
  for (const argv of [[], ['b'], ['b/lanternfall.route.yaml']]) {
    const { code, all } = await findings(folder, ...argv);
    expect(code).toBe(1);
    expect(all).toEqual([
      expect.objectContaining({
        file: 'b/lanternfall.practise.yaml',
        severity: 'error',
        range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
        message:
          'This file is not read: it looks like a practice file, and the names of such files end in .practice.yaml. Rename it to lanternfall.practice.yaml.',
      }),
    ]);
  }
  const { out } = await routewright(folder, ['check']);
  expect(out).toMatch(
    /^b\/lanternfall\.practise\.yaml:1:1 {2}error {2}This file is not read: .*\[misnamed-file\]$/m,
  );
});

test('it is found where nothing else is, and said of a file that is named itself', async () => {
  const folder = folderOf({ 'Route.yaml': route, 'menu.yaml': 'monday: soup\n' });
  expect((await findings(folder)).all.map(({ file }) => file)).toEqual(['Route.yaml']);
  const { code, err } = await routewright(folder, ['check', 'Route.yaml']);
  expect({ code, err }).toEqual({
    code: 2,
    err: 'Route.yaml: This file is not read: it looks like a route file, and the names of such files end in .route.yaml. Rename it to NAME.route.yaml.\n',
  });
  expect((await routewright(folder, ['check', 'menu.yaml'])).err).toContain(
    'menu.yaml is no file of a route.',
  );
});
