import { describe, expect, it } from 'vitest';
import { misnamedProblem, nearlyNamed } from '../../../../server/src/files/reading/misnamed.ts';

const texts = {
  route: 'game: Lanternfall\ncategory: any%\nsegments: []\n',
  practice: 'route: lanternfall.route.yaml\nsessions: []\n',
  runs: 'runner: wick\nroute: "lanternfall.route.yaml"\nruns: []\n',
  week: 'route: ../lanternfall.route.yml\ndays: { mon: 50 }\n',
  pool: 'route: lanternfall.route.yaml\nmodel: 1\ntechniques: {}\n',
} as const;

describe('a name that is nearly right', () => {
  it.each([
    ['lanternfall.routes.yaml', 'route', 'lanternfall.route.yaml'],
    ['Route.yaml', 'route', 'NAME.route.yaml'],
    ['lanternfall-route.yml', 'route', 'lanternfall.route.yaml'],
    ['lanternfall route.yaml', 'route', 'lanternfall.route.yaml'],
    ['lanternfall.route.yaml.txt', 'route', 'lanternfall.route.yaml'],
    ['lanternfall.route.ymal', 'route', 'lanternfall.route.yaml'],
    ['x.run.yaml', 'runs', 'x.runs.yaml'],
    ['x.practise.yaml', 'practice', 'x.practice.yaml'],
    ['x.Weeks.yaml', 'week', 'x.week.yaml'],
    ['x.pools.yaml', 'pool', 'x.pool.yaml'],
    ['my.game.practices.yaml', 'practice', 'my.game.practice.yaml'],
  ] as const)('%s', (name, kind, wanted) => {
    expect(nearlyNamed(name)).toEqual({ kind, wanted });
    const problem = misnamedProblem(name, texts[kind]);
    expect(problem?.code).toBe('misnamed-file');
    expect(problem?.message).toContain(`Rename it to ${wanted}.`);
  });
});

it.each([
  'lanternfall.route.yaml',
  'x.runs.yml',
  'x.ROUTE.YAML',
  'docker-compose.yaml',
  'README.md',
  'routes.json',
  'route.txt',
  'x.route.yaml.bak',
])('%s is right, or far from it', (name) => {
  expect(nearlyNamed(name)).toBeUndefined();
});

// Invented files of other programs, in the forms that are common for each purpose.
it.each([
  ['route.yaml', 'apiVersion: v1\nkind: Route\nmetadata: { name: web }\nspec:\n  to: { name: web }\n'],
  ['admin.routes.yaml', 'index:\n  path: /admin\n  methods: [GET]\n'],
  ['week.yaml', 'menu:\n  monday: soup\n'],
  ['x.run.yaml', 'steps:\n  - run: npm test\n'],
  ['x.routes.yaml', ''],
  ['x.pools.yaml', 'pools:\n  - name: workers\n    size: 4\n'],
])('%s is plainly something else', (name, text) => {
  expect(misnamedProblem(name, text)).toBeUndefined();
});
