import { describe, expect, it } from 'vitest';
import { assess, type Assessment } from '../../../../../server/src/model/index.ts';
import { standingOfChance } from '../../../../helpers/standings.ts';
import { buildModelInput } from '../../../../../server/src/queries/modelInput.ts';
import { contextOf, expectMarkedForecast, forecastsOf, plainRoute, workspaceOf } from '../../marked.ts';

const rate = (mean: number, low: number, high: number) => ({ mean, low, high });
/** What the model might say of crate-vault. */
function says(changes: Partial<Assessment>): ReadonlyMap<string, Assessment> {
  const chance = changes.chanceAboveBreakEvenNow ?? 0.1;
  const usual = {
    standing: standingOfChance('crate-vault', chance, true),
    practiceNow: rate(0.5, 0.4, 0.6),
    runNow: rate(0.3, 0.2, 0.45),
  };
  return new Map([['crate-vault', { ...usual, breakEven: 0.5, chanceAboveBreakEvenNow: 0.1, ...changes }]]);
}
const marked = plainRoute.replace('crate-vault: {', '⟦crate-vault⟧: {');
const run = (tries: string, start = '2026-10-05T20:00') =>
  `  - { start: ${start}, tried: { crate-vault: ${tries} } }\n`;
const runs = (...lines: string[]) => `route: a.route.yaml\nruns:\n${lines.join('')}`;

describe('below-break-even', () => {
  const code = 'below-break-even';

  it('is found for a technique tried in the last runs', async () => {
    const files = { 'a.route.yaml': marked, 'a.runs.yaml': runs(run('[0, 1]')) };
    const [finding] = await expectMarkedForecast(files, code, says({}));
    expect(finding?.severity).toBe('warning');
    expect(finding?.message).toContain(
      'about 30 % of its tries land there (20 % to 45 %), and it pays only above 50 %',
    );
    await expectMarkedForecast(files, code, says({ chanceAboveBreakEvenNow: 0.3 })); // the margin ends below
  });

  it('is found where the week says that it is in the run', async () => {
    const files = {
      'a.route.yaml': marked,
      'a.week.yaml': 'route: a.route.yaml\nstates: { crate-vault: in-run }\n',
    };
    await expectMarkedForecast(
      files,
      code,
      says({ runNow: rate(0.3, 0.2, 0.6), chanceAboveBreakEvenNow: 0.19 }),
    );
  });

  it('is not found where it may well pay, where nothing is tried, or where no rate pays by itself', async () => {
    const tried = { 'a.route.yaml': plainRoute, 'a.runs.yaml': runs(run('[0, 1]')) };
    expect(
      await forecastsOf(tried, says({ runNow: rate(0.4, 0.2, 0.6), chanceAboveBreakEvenNow: 0.3 })),
    ).toEqual([]);
    expect(await forecastsOf(tried, says({ breakEven: null, chanceAboveBreakEvenNow: 0 }))).toEqual([]);
    const untried = { 'a.route.yaml': plainRoute, 'a.runs.yaml': runs(run('[0, 0]')) };
    expect(await forecastsOf(untried, says({}))).toEqual([]);
  });

  it('looks at the last ten runs', async () => {
    const later = Array.from({ length: 10 }, (_, at) => `  - { start: 2026-10-${10 + at} }\n`);
    const files = (count: number, route: string) => ({
      'a.route.yaml': route,
      'a.runs.yaml': runs(run('[0, 1]'), ...later.slice(0, count)),
    });
    await expectMarkedForecast(files(9, marked), code, says({}));
    await expectMarkedForecast(files(10, plainRoute), code, says({}));
  });

  it('points at the log where the technique belongs to a route that is extended', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'b.route.yaml': 'game: L\ncategory: c\nextends: a.route.yaml\n',
      'a.runs.yaml': runs(
        run('[0, 1]', '2026-10-04'),
        run('[1, 1]').replace('crate-vault', '⟦crate-vault⟧'),
      ).replace('a.route', 'b.route'),
    };
    await expectMarkedForecast(files, code, says({}));
  });

  it("agrees with the model's own numbers", async () => {
    // Break-even of loses 9 against saves 3 is 0.75; two of sixty landed in practice, none of twelve in runs.
    const files = {
      'a.route.yaml': plainRoute.replace('loses: 1', 'loses: 9'),
      'a.practice.yaml':
        'route: a.route.yaml\nsessions:\n  - { start: 2026-10-04, blocks: [{ technique: crate-vault, minutes: 20, landed: [2, 60] }] }\n',
      'a.runs.yaml': runs(run('[0, 12]')),
    };
    const workspace = await workspaceOf(files);
    const [project] = workspace.groups().projects;
    const context = contextOf(project!);
    const assessment = assess(buildModelInput(project!, context.own, { asOf: context.today }));
    expect(assessment.get('crate-vault')?.breakEven).toBeCloseTo(0.75, 2);
    const found = await forecastsOf(files, assessment);
    expect(found.map((finding) => finding.code)).toEqual([code]);
    expect(found[0]?.message).toContain('pays only above 75 %');
  });
});
