import { describe, expect, it } from 'vitest';
import { pooledTechniques, poolInUse } from '../../../../../server/src/queries/poolInUse.ts';
import { examplePool } from '../../../../../server/src/rules/engine/examplePool.ts';
import { expectMarked, findingsOf, plainRoute, workspaceOf } from '../../marked.ts';

const pool = (times: number) =>
  `route: a.route.yaml\n${examplePool({ counted: { 'crate-vault': 3 }, later: 0, overstated: times })}`;

describe('overstated-in-pool', () => {
  it('is found at the first technique of which more is said than its runners can say; nothing of it is used', async () => {
    const text = pool(100);
    const files = { 'a.route.yaml': plainRoute, 'a.pool.yaml': text.replace('crate-vault', '⟦crate-vault⟧') };
    const [finding] = await expectMarked(files, 'overstated-in-pool');
    expect(finding?.message).toBe(
      '`crate-vault` says more than 3 runners can, so it is not used. Make the pool again with `routewright pool`.',
    );
    const project = (await workspaceOf({ 'a.route.yaml': plainRoute, 'a.pool.yaml': text })).groups()
      .projects[0]!;
    expect([...pooledTechniques(project, poolInUse(project)!)]).toEqual([]);
  });

  it('is not found up to the limit, which is 80 for each runner', async () => {
    const codesWith = async (number: string) => {
      const files = { 'a.route.yaml': plainRoute, 'a.pool.yaml': pool(1).replace('-210', number) };
      return (await findingsOf(files)).map(({ code }) => code);
    };
    expect(await codesWith('-240')).toEqual([]);
    expect(await codesWith('240')).toEqual([]);
    expect(await codesWith('-241')).toEqual(['overstated-in-pool']);
    expect(await codesWith('241')).toEqual(['overstated-in-pool']);
  });
});
