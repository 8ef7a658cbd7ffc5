/** Runners whose routes have spots, backups, retries and items: in short, as the arena has them. */
import { beforeAll, expect, test } from 'vitest';
import { following, referenceOf } from '../clairvoyant/reference.ts';
import { handRules, policies } from '../policies/policies.ts';
import { reversedTool } from '../policies/tool.ts';
import { seedOf } from '../random.ts';
import { createRunner, simulate } from '../simulate.ts';
import { summary } from '../table.ts';
import { followed } from '../task.ts';
import { kinds } from '../truth/kinds.ts';

const runners = [1, 2, 3].map((number) => createRunner(kinds['choices']!, seedOf(7, number), 0, 16));
const truthful = ['true rates ranked alike', 'true rates handed out block by block'];
const all = {
  'this tool': policies['this tool']!,
  'upside down': reversedTool,
  ...Object.fromEntries([...handRules, ...truthful].map((title) => [title, policies[title]!])),
};
const areas = new Map<string, number[]>();

beforeAll(() => {
  for (const [title, policy] of Object.entries(all))
    areas.set(
      title,
      runners.map((runner) => simulate(runner, policy).area),
    );
});

/** Mean area under the gain as a share of that of the true rates, handed out block by block. */
function share(title: string): number {
  const best = areas.get('true rates handed out block by block')!;
  return summary(areas.get(title)!.map((area, i) => area / best[i]!)).mean;
}

test('the true rates gain more than every rule by hand and than the tool', () => {
  for (const title of ['this tool', ...handRules])
    for (const told of truthful) expect(share(title), title).toBeLessThan(share(told));
});

test('a ranking turned upside down is noticed', () => {
  const bestByHand = Math.max(...handRules.map(share));
  expect(share('this tool')).toBeGreaterThan(bestByHand);
  expect(share('upside down')).toBeLessThan(bestByHand);
});

test('nobody passes the reference, which gains more than the true rankings that it begins with', () => {
  const runner = createRunner(kinds['choices']!, seedOf(7, 4), 0, 9);
  const others = ['the five biggest saves in turn', 'the same four until 80 %', ...truthful].map((title) =>
    followed(runner, policies[title]!),
  );
  const { area } = referenceOf(runner, others);
  for (const { plan, outcome } of others) {
    expect(outcome.area).toBeLessThanOrEqual(area);
    // Followed again as a plan made beforehand, what somebody practised comes to the same.
    expect(simulate(runner, () => following(plan)).area).toBe(outcome.area);
  }
  expect(area).toBeGreaterThan(simulate(runner, policies[truthful[0]!]!).area);
});

test('other kinds have routes without choices', () => {
  for (const [name, kind] of Object.entries(kinds)) {
    const { world } = createRunner(kind, seedOf(7, 0), 0, 16);
    expect(world.choices === undefined).toBe(name !== 'choices');
  }
});
