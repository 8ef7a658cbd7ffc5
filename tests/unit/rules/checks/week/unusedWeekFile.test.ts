import { describe, expect, it } from 'vitest';
import { buildModelInput } from '../../../../../server/src/queries/modelInput.ts';
import { contextOf, expectMarked, findingsOf, plainRoute, underlined, workspaceOf } from '../../marked.ts';

describe('unused-week-file', () => {
  const code = 'unused-week-file';
  const route = { 'a.route.yaml': plainRoute };
  const week = (rest: string, at = 'a.route.yaml') => `route: ${at}\n${rest}`;

  it('names the file that is used, and that one is', async () => {
    const files = {
      ...route,
      'a.week.yaml': week('block: 20\n'),
      'b.week.yaml': week('block: 30\n', '⟦a.route.yaml⟧'),
    };
    const [finding] = await expectMarked(files, code);
    expect(finding?.message).toContain('for this route, `a.week.yaml` is');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual(['a.week.yaml: a.route.yaml']);
    const plain = Object.fromEntries(
      Object.entries(files).map(([name, text]) => [name, text.replace(/[⟦⟧]/g, '')]),
    );
    const [project] = (await workspaceOf(plain)).groups().projects;
    const { own, today } = contextOf(project!);
    expect(buildModelInput(project!, own, { asOf: today }).options.blockMinutes).toBe(20);
  });

  it('is found for a file without a runner where every runner has one, and for the second of one runner', async () => {
    const ada = week('runner: Ada\n');
    const files = { ...route, 'b.week.yaml': ada, 'a.week.yaml': week('', '⟦a.route.yaml⟧') };
    const [finding] = await expectMarked(files, code);
    expect(finding?.message).toContain('`b.week.yaml` is');
    const twice = { ...route, 'a.week.yaml': ada, 'b.week.yaml': week('runner: Ada\n', '⟦a.route.yaml⟧') };
    const [second] = await expectMarked(twice, code);
    expect(second?.message).toContain('for this route and Ada, `a.week.yaml` is');
  });

  it('is not found where each runner has a file, or one has and the other uses the common one', async () => {
    const one = { ...route, 'a.week.yaml': week('runner: Ada\n') };
    const codes = async (files: Record<string, string>) =>
      (await findingsOf(files, { runner: 'Ada' })).map((finding) => finding.code);
    expect(await codes({ ...one, 'b.week.yaml': week('runner: Bo\n') })).toEqual([]);
    const log = { 'b.practice.yaml': week('runner: Bo\nsessions: []\n') };
    expect(await codes({ ...one, ...log, 'b.week.yaml': week('') })).toEqual([]);
  });
});
