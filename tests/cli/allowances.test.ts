import { expect, test } from 'vitest';
import { folderOf, routewright } from './place.ts';

const route = `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 90, techniques: [lamp-hop] }
techniques:
  lamp-hop: { difficulty: 2, saves: 1.5, loses: 1, practice: { attempt: 20, reload: 40 } }
`;

async function codes(text: string): Promise<string[]> {
  const said = await routewright(folderOf({ 'a.route.yaml': text }), ['check', '--json']);
  return (JSON.parse(said.out) as { findings: { code: string }[] }).findings.map(({ code }) => code);
}

test('check leaves out what a comment allows with a reason, and says which comments allow nothing', async () => {
  expect(await codes(route)).toEqual(['slow-cycle']);
  expect(await codes(route.replace('  lamp-hop:', '  # allow slow-cycle: the lift\n  lamp-hop:'))).toEqual(
    [],
  );
  expect(await codes(`# allow long-day in this file: a marathon\n${route}`)).toEqual([
    'needless-allowance',
    'slow-cycle',
  ]);
  // The forecast is made here, so that its rules have looked, too.
  expect(await codes(`# allow lands-too-rarely in this file: for the show\n${route}`)).toEqual([
    'needless-allowance',
    'slow-cycle',
  ]);
});

test('a finding about a comment has a rule in the SARIF log', async () => {
  const folder = folderOf({ 'a.route.yaml': `# allow long-day in this file: a marathon\n${route}` });
  const { out } = await routewright(folder, ['check', '--sarif']);
  const { runs } = JSON.parse(out) as {
    runs: {
      tool: { driver: { rules: { id: string }[] } };
      results: { ruleId: string; ruleIndex: number }[];
    }[];
  };
  const { tool, results } = runs[0]!;
  const found = results.find(({ ruleId }) => ruleId === 'needless-allowance')!;
  expect(tool.driver.rules[found.ruleIndex]!.id).toBe('needless-allowance');
});
