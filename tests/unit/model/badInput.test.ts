import { describe, expect, test } from 'vitest';
import { assess, rank, resolveConstants } from '../../../server/src/model/index.ts';
import { layOutRoute } from '../../../server/src/model/run/routeLayout.ts';
import { planRun } from '../../../server/src/model/run/runPlan.ts';
import { planWeek } from '../../../server/src/model/week/planWeek.ts';
import { resetLine } from '../../../server/src/model/run/resetLine.ts';
import { runOdds } from '../../../server/src/reports/odds/runOdds.ts';
import { weekReviewReport } from '../../../server/src/reports/review/weekReviewReport.ts';
import { chooseBaseline } from '../../../server/src/model/run/baseline.ts';
import { notFinite, weekInputOf } from '../../helpers/weekInputs.ts';
import { expectMarked } from '../rules/marked.ts';

type Files = Readonly<Record<string, string>>;

/** Three techniques in two segments: one alone, two in one spot. */
function routeText(
  more: { readonly kick?: string; readonly hop?: string; readonly restart?: string } = {},
): string {
  return `game: Lanternfall
category: any%
restart: ${more.restart ?? '14'}
segments:
  - id: harbor
    time: 1:32.4
    spread: 1.2
    survive: 0.98
    techniques: [wall-kick]
  - id: rope-yard
    time: 2:08
    techniques: [lamp-hop, { use: lamp-clip, spot: gate }]
techniques:
  wall-kick: { difficulty: 3, ${more.kick ?? 'saves: 3.2, loses: 1.4'}, practice: { attempt: 4, reload: 1 } }
  lamp-hop: { difficulty: 5, ${more.hop ?? 'saves: 2, loses: 1'}, practice: { attempt: 4, reload: 1 } }
  lamp-clip: { difficulty: 7, saves: 9, loses: 4, needs: [lamp-hop], practice: { attempt: 5, reload: 1 } }
`;
}

function practiceText(...blocks: readonly (readonly [start: string, block: string])[]): string {
  const sessions = blocks.map(([start, block]) => `  - start: ${start}\n    blocks: [{ ${block} }]\n`);
  return `route: a.route.yaml\nsessions:\n${sessions.join('')}`;
}

const week = `route: a.route.yaml
target: "3:38"
days: { mon: 60, thu: 50 }
states: { wall-kick: in-run, lamp-hop: learning }
`;

const usualRuns = `route: a.route.yaml
runs:
  - { date: 2026-10-08, minutes: 60, runs: 12, finished: 6, tried: { wall-kick: [7, 12], lamp-hop: [2, 6] } }
`;

function folder(more: Files = {}): Files {
  return {
    'a.route.yaml': routeText(),
    'a.practice.yaml': practiceText([
      '2026-10-05T19:00',
      'technique: wall-kick, minutes: 25, landed: [60, 150]',
    ]),
    'a.runs.yaml': usualRuns,
    'a.week.yaml': week,
    ...more,
  };
}

/** Asks everything there is to ask and says where a number of an answer is not finite. */
async function unanswered(files: Files): Promise<string[]> {
  const { project, own, weekInput } = await weekInputOf(files);
  const target = own.week?.document.target ?? 218;
  const tried = new Set(weekInput.route.techniques.map(({ id }) => id));
  const layout = layOutRoute(weekInput.route);
  const rateOf = (): number => 0.5;
  const { played } = chooseBaseline(
    layout,
    (id) => tried.has(id),
    rateOf,
    resolveConstants(weekInput.constants),
  );
  const line = resetLine(planRun(weekInput.route, layout, { played, rateOf }, 0.1).plan, target);
  const { line: hourly, never } = line.perHour;
  const answers = {
    rank: rank({ ...weekInput, options: { ...weekInput.options, all: true } }),
    assess: assess(weekInput),
    odds: runOdds(weekInput, { target, with: [...tried] }),
    noTarget: runOdds(weekInput, { target: null, with: [] }),
    line: { times: line.times, perHour: line.perHour },
    review: weekReviewReport(project, weekInput),
    plan: planWeek({ ...weekInput.planInput, evaluations: 60, boundRounds: 10 }),
  };
  expect(answers.rank.rows.length + answers.rank.skipped.length).toBe(weekInput.route.techniques.length);
  expect(hourly).toBeGreaterThanOrEqual(never);
  for (const { practiceNow, runNow } of answers.assess.values()) {
    for (const { low, mean, high } of [practiceNow, runNow]) {
      expect(0 <= low && low <= high && high <= 1 && mean >= 0 && mean <= 1).toBe(true);
    }
  }
  return notFinite(answers);
}

const ends = 'saves: 3, ends_run: true';
const block = 'technique: wall-kick, minutes: 25,';

describe('finite answers from every command', () => {
  test.each<[string, Files]>([
    ['nothing odd at all', {}],
    ['a route alone', { 'a.practice.yaml': '', 'a.runs.yaml': '', 'a.week.yaml': '' }],
    ['nothing landed, ever', { 'a.practice.yaml': practiceText(...days(20, `${block} landed: [0, 150]`)) }],
    [
      'everything landed, always',
      { 'a.practice.yaml': practiceText(...days(20, `${block} landed: [150, 150]`)) },
    ],
    [
      'one attempt, landed',
      {
        'a.practice.yaml': practiceText(['2026-10-05', 'technique: wall-kick, minutes: 1, landed: [1, 1]']),
        'a.runs.yaml': '',
      },
    ],
    [
      'one attempt, missed',
      {
        'a.practice.yaml': practiceText(['2026-10-05', 'technique: wall-kick, minutes: 1, landed: [0, 1]']),
        'a.runs.yaml': '',
      },
    ],
    [
      'one try in one run',
      {
        'a.practice.yaml': '',
        'a.runs.yaml': 'route: a.route.yaml\nruns: [{ start: 2026-10-08, tried: { lamp-clip: [0, 1] } }]\n',
      },
    ],
    [
      'ten thousand attempts in a day',
      {
        'a.practice.yaml': practiceText([
          '2026-10-05',
          'technique: wall-kick, minutes: 900, landed: [4000, 10000]',
        ]),
      },
    ],
    [
      'ten thousand attempts a day, all landed, and none in runs',
      {
        'a.practice.yaml': practiceText(
          ...days(30, 'technique: wall-kick, minutes: 900, landed: [10000, 10000]'),
        ),
        'a.runs.yaml':
          'route: a.route.yaml\nruns: [{ date: 2026-10-29, minutes: 300, runs: 500, tried: { wall-kick: [0, 500] } }]\n',
      },
    ],
    ['zero loses', { 'a.route.yaml': routeText({ kick: 'saves: 3, loses: 0' }) }],
    ['saves of zero', { 'a.route.yaml': routeText({ kick: 'saves: 0, loses: 1' }) }],
    [
      'neither saves nor loses',
      { 'a.route.yaml': routeText({ kick: 'saves: 0, loses: 0', hop: 'saves: 0, loses: 0' }) },
    ],
    [
      'a miss that ends the run, saving nothing',
      { 'a.route.yaml': routeText({ kick: 'saves: 0, ends_run: true' }) },
    ],
    ['a run-ending technique in every segment', { 'a.route.yaml': routeText({ kick: ends, hop: ends }) }],
    [
      'the same without any time between runs',
      { 'a.route.yaml': routeText({ kick: ends, hop: ends, restart: '0' }) },
    ],
    [
      'logs in the wrong order',
      { 'a.practice.yaml': practiceText(...days(9, `${block} landed: [60, 150]`).reverse()) },
    ],
    [
      'two logs that overlap',
      { 'b.practice.yaml': practiceText(...days(9, `${block} landed: [20, 150]`)), 'b.runs.yaml': usualRuns },
    ],
    [
      'a block of no minutes',
      { 'a.practice.yaml': practiceText(['2026-10-05', 'technique: wall-kick, minutes: 0, landed: [1, 2]']) },
    ],
    ['practice long ago', { 'a.practice.yaml': practiceText(['1999-10-05', `${block} landed: [60, 150]`]) }],
  ])('%s', async (_, files) => {
    const asked = Object.fromEntries(Object.entries(folder(files)).filter(([, text]) => text !== ''));
    expect(await unanswered(asked)).toEqual([]);
  });
});

/** The same block on so many days from the first of October on. */
function days(count: number, text: string): [string, string][] {
  return Array.from({ length: count }, (_, i) => [`2026-10-${String(i + 1).padStart(2, '0')}T19:00`, text]);
}

describe('what cannot be meant has a message at its place, and the rest is answered', () => {
  test.each<[string, string, Files]>([
    [
      'logs in the wrong order',
      'dates-out-of-order',
      {
        'a.practice.yaml': practiceText(
          ['2026-10-06', `${block} landed: [60, 150]`],
          ['⟦2026-10-05⟧', `${block} landed: [50, 150]`],
        ),
      },
    ],
    [
      'ten thousand attempts in a block of 25 minutes',
      'attempts-exceed-minutes',
      {
        'a.practice.yaml': practiceText([
          '2026-10-05',
          'technique: wall-kick, minutes: ⟦25⟧, landed: [60, 10000]',
        ]),
      },
    ],
    [
      'more landed than tried',
      'more-landed-than-tried',
      { 'a.practice.yaml': practiceText(['2026-10-05', `${block} landed: ⟦[151, 150]⟧`]) },
    ],
    [
      'fewer than none landed',
      'out-of-range',
      { 'a.practice.yaml': practiceText(['2026-10-05', `${block} landed: [⟦-1⟧, 150]`]) },
    ],
    [
      'a count that is no number',
      'wrong-type',
      { 'a.practice.yaml': practiceText(['2026-10-05', `${block} landed: [⟦.nan⟧, 150]`]) },
    ],
    ['endless savings', 'wrong-type', { 'a.route.yaml': routeText({ kick: 'saves: ⟦1e400⟧, loses: 1' }) }],
    ['a loss below zero', 'out-of-range', { 'a.route.yaml': routeText({ kick: 'saves: 2, loses: ⟦-1⟧' }) }],
    [
      'savings longer than the segment',
      'saves-too-much',
      {
        'a.route.yaml': routeText({ kick: 'saves: 900, loses: 1' }).replace('[wall-kick]', '[⟦wall-kick⟧]'),
      },
    ],
  ])('%s', async (_, code, files) => {
    const marked = folder(files);
    const findings = await expectMarked(marked, code);
    expect(findings).toHaveLength(1);
    const texts = Object.fromEntries(
      Object.entries(marked).map(([name, text]) => [name, text.replaceAll(/[⟦⟧]/g, '')]),
    );
    expect(await unanswered(texts)).toEqual([]);
  });
});

test('a number that is not finite is found wherever it stands in an answer', () => {
  const answer = {
    rows: [{ gain: 1, low: NaN }],
    by: new Map([['a', { times: [null, Infinity] }]]),
    none: null,
  };
  expect(notFinite(answer)).toEqual(['rows.0.low', 'by.a.times.1']);
});
