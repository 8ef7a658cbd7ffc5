import { describe, expect, it } from 'vitest';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { ran } from '../../builders/exampleRuns.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('target-already-beaten', () => {
  const code = 'target-already-beaten';
  const totals = (...times: string[]) =>
    ran(...times.map((total, at) => `start: 2026-10-05T20:${10 + 4 * at}, total: ${total}`));
  const week = (target: string) => ({ 'a.week.yaml': `route: a.route.yaml\ntarget: ${target}\n` });

  it('is found where more than half of five runs or more were faster', async () => {
    await expectMarked({ ...totals('3:36', '3:38', '3:39', '3:41', '3:42'), ...week('⟦"3:40"⟧') }, code);
    expect(await findingsOf({ ...totals('3:36', '3:38', '3:41', '3:42'), ...week('"3:40"') })).toEqual([]);
    const half = totals('3:36', '3:38', '3:39', '3:41', '3:42', '3:43');
    expect(await findingsOf({ ...half, ...week('"3:40"') })).toEqual([]);
  });

  it("speaks of the route's target where the week has none", async () => {
    const files = {
      ...totals('3:36', '3:38', '3:39', '3:41', '3:42'),
      'a.route.yaml': exampleRoute.replace('restart: 14', 'restart: 14\ntarget: ⟦"3:40"⟧'),
    };
    await expectMarked(files, code);
  });
});
