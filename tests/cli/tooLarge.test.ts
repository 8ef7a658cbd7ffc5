import { describe, expect, test } from 'vitest';
import { beyondLimits } from '../helpers/largeRoutes.ts';
import { folderOf, routewright } from './place.ts';

const commands = [
  ['rank', '.'],
  ['plan', '.'],
  ['tonight', '.'],
  ['odds', '.'],
  ['review', '.'],
  ['progress', '.'],
  ['compare', 'a.route.yaml', 'a.route.yaml'],
];

describe.each(beyondLimits)('$name', ({ files, finding }) => {
  test.each(commands)('%s refuses it with the place and the limit', async (...argv) => {
    const { code, out, err } = await routewright(folderOf(files), [...argv, '--as-of', '2026-11-02']);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(/This route is too large to work with\. a\.route\.yaml, line \d+: /);
    expect(err).toContain(finding);
  });

  test('check finds it, and forecasts nothing', async () => {
    const { code, out } = await routewright(folderOf(files), ['check', '--as-of', '2026-11-02']);
    expect(code).toBe(1);
    expect(out).toContain(finding);
    expect(out).toContain('[too-large]');
  });
});
