import { describe, expect, it } from 'vitest';
import { assess, type Assessment } from '../../../../../server/src/model/index.ts';
import type { Standing } from '../../../../../server/src/model/core/standing.ts';
import { findingsIn } from '../../../../../schemas/exampleFindings.ts';
import { standing } from '../../../../helpers/standings.ts';
import { buildModelInput } from '../../../../../server/src/queries/modelInput.ts';
import { contextOf, expectMarkedForecast, forecastsOf, plainRoute, workspaceOf } from '../../marked.ts';

const rate = (mean: number, low: number, high: number) => ({ mean, low, high });
/** What the model might say of crate-vault: tried in runs, lands 30 % there and pays from 50 %. */
function says(
  changes: Partial<Standing> = {},
  resetWeight: number | null = null,
): ReadonlyMap<string, Assessment> {
  const stands = standing('crate-vault', {
    kind: 'again',
    cause: { why: 'costs time' },
    chancePays: 0.1,
    runNow: 0.3,
    tried: true,
    ...changes,
  });
  return new Map([
    [
      'crate-vault',
      {
        standing: stands,
        practiceNow: rate(0.5, 0.4, 0.6),
        runNow: rate(0.3, 0.2, 0.45),
        breakEven: stands.breakEven,
        resetWeight,
        chanceAboveBreakEvenNow: stands.chancePays,
      },
    ],
  ]);
}
const slip = {
  week: { landed: 5, tries: 22 },
  earlier: { landed: 70, tries: 80 },
  expected: 19,
  chance: 1e-4,
  slipped: true,
};
const marked = plainRoute.replace('crate-vault: {', '⟦crate-vault⟧: {');
const run = (tries: string, start = '2026-10-05T20:00') =>
  `  - { start: ${start}, tried: { crate-vault: ${tries} } }\n`;
const runs = (...lines: string[]) => `route: a.route.yaml\nruns:\n${lines.join('')}`;

describe('lands-too-rarely', () => {
  const code = 'lands-too-rarely';

  it('is found for a technique tried in the last runs', async () => {
    const files = { 'a.route.yaml': marked, 'a.runs.yaml': runs(run('[0, 1]')) };
    const [finding] = await expectMarkedForecast(files, code, says());
    expect(finding?.severity).toBe('warning');
    expect(finding?.message).toContain(
      'Trying it in runs costs time: it lands 30 % in runs and pays from 50 %.',
    );
    expect(finding?.message).toContain('take the safe way');
  });

  it.each([
    [{ why: 'slipped', test: slip }, 'It landed 5 of 22 in the last week'],
    [{ why: 'not back yet', day: 20366, slipped: true }, 'It slipped in runs up to'],
    [{ why: 'not back yet', day: 20366, slipped: false }, 'It cost time in runs up to'],
    [{ why: 'fallen', day: 20366 }, 'It was competent and is no longer'],
  ] as const)('is found for whatever is to be worked on again: %o', async (cause, sentence) => {
    const files = { 'a.route.yaml': marked, 'a.runs.yaml': runs(run('[0, 1]')) };
    const [finding] = await expectMarkedForecast(files, code, says({ cause, worthTrying: true }));
    expect(finding?.message).toContain(sentence);
    expect(finding?.message).toContain('go on trying it');
  });

  it('names what a second lost to resets counts where the break-even rests on it', async () => {
    const files = { 'a.route.yaml': marked, 'a.runs.yaml': runs(run('[0, 1]')) };
    const rests =
      'Its break-even rests on a second lost to resets counted as 0.02 s (clock_weight in the week file).';
    const [resting] = await expectMarkedForecast(files, code, says({}, 0.02));
    expect(resting?.message).toContain(rests);
    const [other] = await expectMarkedForecast(files, code, says());
    expect(other?.message).not.toContain('clock_weight');
  });

  it('names it in a project whose misses end the run', async () => {
    const evening = (day: string): string =>
      `  - { date: 2026-10-${day}, minutes: 90, runs: 30, finished: 0, tried: { crate-vault: [1, 30] } }\n`;
    const found = (weight: string) =>
      findingsIn({
        'a.route.yaml': plainRoute.replace('loses: 1,', 'ends_run: true,'),
        'a.runs.yaml': runs(evening('01'), evening('03'), evening('04')),
        'a.week.yaml': `route: a.route.yaml\nstates: { crate-vault: in-run }\n${weight}`,
      }).then((all) => all.filter((one) => one.code === code).map(({ message }) => message));
    const [usual] = await found('');
    expect(usual).toContain('a second lost to resets counted as 0.01 s (clock_weight in the week file)');
    const [more] = await found('model: { clock_weight: 0.03 }\n');
    expect(more).toContain('a second lost to resets counted as 0.03 s (clock_weight in the week file)');
  });

  it('is found where it is tried and saves time at no landing rate', async () => {
    const files = { 'a.route.yaml': marked, 'a.runs.yaml': runs(run('[0, 1]')) };
    const stands = { kind: 'in-run', cause: { why: 'never pays' }, breakEven: null } as const;
    const [finding] = await expectMarkedForecast(files, code, says(stands));
    expect(finding?.message).toContain('It saves time at no landing rate. Take the safe way');
  });

  it('is found where the week says that it is in the run', async () => {
    const files = {
      'a.route.yaml': marked,
      'a.week.yaml': 'route: a.route.yaml\nstates: { crate-vault: in-run }\n',
    };
    await expectMarkedForecast(files, code, says({ worthTrying: true }));
  });

  it('is not found where nothing speaks against it, where nothing is tried, or where it opens others', async () => {
    const tried = { 'a.route.yaml': plainRoute, 'a.runs.yaml': runs(run('[0, 1]')) };
    for (const kind of ['learning', 'in-run', 'aside', 'waiting', 'left-out', 'not-begun'] as const)
      expect(await forecastsOf(tried, says({ kind, cause: { why: 'competent' }, chancePays: 0.5 }))).toEqual(
        [],
      );
    const opens = { why: 'carries', opens: ['wall-kick'] } as const;
    expect(await forecastsOf(tried, says({ kind: 'in-run', cause: opens, breakEven: null }))).toEqual([]);
    const untried = { 'a.route.yaml': plainRoute, 'a.runs.yaml': runs(run('[0, 0]')) };
    expect(await forecastsOf(untried, says())).toEqual([]);
  });

  it('looks at the last ten runs', async () => {
    const later = Array.from({ length: 10 }, (_, at) => `  - { start: 2026-10-${10 + at} }\n`);
    const files = (count: number, route: string) => ({
      'a.route.yaml': route,
      'a.runs.yaml': runs(run('[0, 1]'), ...later.slice(0, count)),
    });
    await expectMarkedForecast(files(9, marked), code, says());
    await expectMarkedForecast(files(10, plainRoute), code, says());
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
    await expectMarkedForecast(files, code, says());
  });

  it('is not found for a pick-up: it saves nothing by itself, and opens another technique', async () => {
    const files = {
      'a.route.yaml': plainRoute
        .replace('[crate-vault]', '[{ use: oil-grab, take: oil, costs: 2 }, { use: crate-vault, with: oil }]')
        .replace(
          'techniques:\n  crate',
          'techniques:\n  oil-grab: { difficulty: 2, saves: 0, loses: 1 }\n  crate',
        ),
      'a.runs.yaml': runs(
        ...[5, 6, 7].map((day) => run('[1, 4]', `2026-10-0${day}`).replace('crate-vault', 'oil-grab')),
      ),
    };
    const [project] = (await workspaceOf(files)).groups().projects;
    const { own, today } = contextOf(project!);
    const assessment = assess(buildModelInput(project!, own, { asOf: today }));
    const { kind, breakEven, tried } = assessment.get('oil-grab')!.standing;
    expect({ kind, breakEven, tried }).toEqual({ kind: 'in-run', breakEven: null, tried: true });
    const found = await forecastsOf(files, assessment);
    expect(found.filter(({ message }) => message.includes('oil-grab'))).toEqual([]);
  });

  it("agrees with the model's own numbers", async () => {
    // Break-even of loses 9 against saves 3 is 0.75; two of sixty landed in practice, none of twelve in three runs.
    const files = {
      'a.route.yaml': plainRoute.replace('loses: 1', 'loses: 9'),
      'a.practice.yaml':
        'route: a.route.yaml\nsessions:\n  - { start: 2026-10-04, blocks: [{ technique: crate-vault, minutes: 20, landed: [2, 60] }] }\n',
      'a.runs.yaml': runs(run('[0, 4]'), run('[0, 4]', '2026-10-06'), run('[0, 4]', '2026-10-07')),
    };
    const workspace = await workspaceOf(files);
    const [project] = workspace.groups().projects;
    const context = contextOf(project!);
    const assessment = assess(buildModelInput(project!, context.own, { asOf: context.today }));
    expect(assessment.get('crate-vault')?.breakEven).toBeCloseTo(0.75, 2);
    const found = await forecastsOf(files, assessment);
    expect(found.map((finding) => finding.code)).toEqual([code]);
    expect(found[0]?.message).toContain('pays from 75 %');
  });
});
