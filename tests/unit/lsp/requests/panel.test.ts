import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { beforeAll, describe, expect, it } from 'vitest';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { withComparedRoute } from '../../../../server/src/lsp/requests/comparedRoute.ts';
import { locateTechniqueHandler } from '../../../../server/src/lsp/requests/locateTechnique.ts';
import { panelData, panelHandler, panelMarkdownHandler } from '../../../../server/src/lsp/requests/panel.ts';
import { PanelReports } from '../../../../server/src/lsp/estimates/panelReports.ts';
import { panelDataShape, type PanelData } from '../../../../server/src/protocol/panel/panelData.ts';
import { panelViews, type PanelView } from '../../../../server/src/protocol/panel/views.ts';
import { rank } from '../../../../server/src/model/index.ts';
import type { Project } from '../../../../server/src/workspace/project.ts';
import type { RunnerFiles } from '../../../../server/src/workspace/runnerFiles.ts';
import { harborRoute, neverStopped, openEditor, uriOf, type Editor } from '../editor.ts';
import { RouteStores } from '../../../../server/src/lsp/estimates/routeStore.ts';

const samples = join(import.meta.dirname, '../../../../samples');
const sample = Object.fromEntries(
  readdirSync(samples)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => [name, readFileSync(join(samples, name), 'utf8')]),
);
const names = Object.keys(sample);
const TODAY = '2026-11-16T18:00';

function ask(
  { services }: Editor,
  reports: PanelReports,
  view: PanelView,
  wait = true,
  technique: string | null = 'lamp-clip',
): PanelData {
  return runToCompletion(
    panelData(
      { ...services, panelReports: reports },
      {
        uri: uriOf('lanternfall.route.yaml'),
        view,
        technique,
        objective: 'time',
        wait,
      },
    ),
  );
}

/** The one runner's files. */
function own({ practice, runs, weeks: [week] }: Project): RunnerFiles {
  return { runner: undefined, practice, runs, week };
}

/** Puts a text in the place of another in an open file, as typing does. */
async function type(editor: Editor, name: string, from: string, to: string, version: number): Promise<void> {
  const uri = uriOf(name);
  const text = editor.services.documents.text(uri) ?? '';
  expect(text, name).toContain(from);
  editor.services.sync.change(uri, [{ text: text.replace(from, to) }], version);
  await editor.services.sync.ready();
}

it('names in the week what the week file pins or leaves out beside the practice set', async () => {
  const week = 'route: a.route.yaml\ndays: { mon: 50 }\nleave_out: [lamp-hop, no-such-trick]\n';
  const editor = await openEditor({ 'a.route.yaml': harborRoute, 'a.week.yaml': week }, { today: TODAY });
  const reports = new PanelReports(editor.services.estimates, new RouteStores());
  const params = {
    uri: uriOf('a.route.yaml'),
    view: 'week',
    technique: null,
    objective: 'time',
    wait: true,
  } as const;
  const data = runToCompletion(panelData({ ...editor.services, panelReports: reports }, params));
  const { set, outside } = data.week!;
  expect(set.map(({ technique }) => technique)).not.toContain('lamp-hop');
  expect(outside).toMatchObject([
    { technique: 'lamp-hop', standing: 'left-out', standingText: 'left out', pinned: false, leftOut: true },
  ]);
  editor.services.checks.dispose();
});

describe('the panel of the sample', () => {
  let editor: Editor;
  let reports: PanelReports;
  beforeAll(async () => {
    editor = await openEditor(sample, { today: TODAY, open: names });
    reports = new PanelReports(editor.services.estimates, new RouteStores());
  });

  it.each(panelViews)('has a %s view in the form that is promised', async (view) => {
    const { services } = editor;
    const readRevision = () => Promise.reject(new Error('No revision is asked for.'));
    const answer = withComparedRoute(
      { ...services, readRevision },
      panelHandler({ ...services, panelReports: reports }),
    );
    const uri = uriOf('lanternfall.route.yaml');
    const look = { view, technique: 'lamp-clip', compared: { uri }, objective: 'time' };
    const data = await answer({ uri, ...look, wait: true }, neverStopped);
    expect(panelDataShape.fits(data)).toBe(true);
    expect(data).toMatchObject({ view, message: null, pending: null, asOf: '2026-11-16' });
    expect(data.route).toMatch(/Lanternfall,? any%/);
    expect(data[view]).not.toBeNull();
  });

  it('shows the same first row as the ranking elsewhere', () => {
    const project = editor.services.workspace.projectOf(uriOf('lanternfall.route.yaml'))!;
    const report = runToCompletion(editor.services.estimates.ranking(project, own(project)));
    const [row] = ask(editor, reports, 'ranking').ranking!.rows;
    expect(row).toMatchObject({ technique: report.rows[0]!.technique, place: 1 });
    expect(row!.gain.mean).toBeCloseTo(report.rows[0]!.gainPerHour, 12);
    expect(row!.gainText).toMatch(/^[\d.]+ to [\d.]+ s per hour$/);
  });

  it('ranks by the target where that is asked for, as the command line does', () => {
    const { ranking } = ask(editor, reports, 'ranking');
    expect(ranking!.targetText).toBeNull();
    expect(ranking!.objectives.map(({ label }) => label)).toEqual([
      'expected time of a run',
      'chance of beating 41:30',
    ]);
    const uri = uriOf('lanternfall.route.yaml');
    const params = { uri, view: 'ranking', technique: null, objective: 'target', wait: true } as const;
    const byTarget = runToCompletion(
      panelData({ ...editor.services, panelReports: reports }, params),
    ).ranking!;
    const project = editor.services.workspace.projectOf(uri)!;
    const question = runToCompletion(editor.services.estimates.modelInput(project, own(project)));
    const { rows } = rank({
      ...question,
      options: { ...question.options, objective: 'target', target: 41.5 * 60 },
    });
    expect(byTarget.rows.map(({ technique }) => technique)).toEqual(rows.map(({ technique }) => technique));
    expect(byTarget.rows[0]!.gain.mean).toBeCloseTo(100 * rows[0]!.gainPerHour, 9);
    expect(byTarget.rows[0]!.gainText).toMatch(/points per hour$/);
    expect(byTarget.targetText).toMatch(
      /^Ranked by the chance of beating 41:30 in an hour of runs, \d+ % now\.$/,
    );
    expect(ask(editor, reports, 'ranking').ranking).toEqual(ranking);
  });

  it('plans seven days from today, none over an hour on one technique', () => {
    const week = ask(editor, reports, 'week').week!;
    expect(week.days).toHaveLength(7);
    expect(week.days[0]).toMatchObject({ date: '2026-11-16', today: true });
    expect(week.days.filter(({ today }) => today)).toHaveLength(1);
    // The sample's week file has the night ferry on the 20th and runs on Saturdays.
    expect(week.days.find(({ date }) => date === '2026-11-20')).toMatchObject({ off: true, blocks: [] });
    expect(week.days.find(({ date }) => date === '2026-11-21')).toMatchObject({ runMinutes: 120 });
    for (const { blocks } of week.days) {
      for (const id of new Set(blocks.map(({ technique }) => technique))) {
        const own = blocks.filter(({ technique }) => technique === id);
        expect(own.reduce((sum, { minutes }) => sum + minutes, 0)).toBeLessThanOrEqual(60);
      }
    }
  });

  it('says at once what the plan gains, and a moment later that hardly more can be gained', () => {
    const uri = uriOf('lanternfall.route.yaml');
    const params = { uri, view: 'week', technique: null, objective: 'time', wait: true } as const;
    const average = ({ week }: PanelData): string => week!.notes[0]!;
    const atOnce = ask(editor, reports, 'week');
    expect(atOnce.more).toBe(true);
    expect(average(atOnce)).toMatch(/^On average .*: [\d.]+ s expected; .* is being worked out\.$/);

    // Given up half-way, it leaves everything as it is.
    const rest = panelHandler({ ...editor.services, panelReports: reports });
    const early = rest({ ...params, rest: true });
    for (let step = 0; step < 20; step++) expect(early.next().done).toBe(false);
    expect(ask(editor, reports, 'week')).toEqual(atOnce);
    const known = runToCompletion(rest({ ...params, rest: true }));
    expect(known.more).toBe(false);
    const [value, bound] = /: ([\d.]+) s expected; .* can gain more than ([\d.]+) s\.$/
      .exec(average(known))!
      .slice(1)
      .map(Number);
    expect(value).toBeLessThanOrEqual(bound!);
    // This set begins with more members than places. A plan fills no place that then becomes free; the bound keeps all of
    // the places on every day. So it lies further above the plan than for a set that begins with no more than its places.
    expect(value! / bound!).toBeGreaterThan(0.63);
    // Asked for once more, it is known at once.
    expect(ask(editor, reports, 'week')).toEqual(known);
    expect({ ...known.week, notes: [] }).toEqual({ ...atOnce.week, notes: [] });
  });

  it('gives the distribution of the run with all its mass and the odds beside it', () => {
    const run = ask(editor, reports, 'odds').odds!;
    const total = run.bins.reduce((sum, { share }) => sum + share, 0);
    // All but a thousandth at either end is drawn.
    expect(total).toBeGreaterThan(0.997);
    expect(total).toBeLessThan(1.0005);
    expect(run.target?.seconds).toBe(41 * 60 + 30);
    expect(run.shareTicks.length).toBeGreaterThan(3);
  });

  it('says the same in Markdown', () => {
    const uri = uriOf('lanternfall.route.yaml');
    const params = { uri, view: 'ranking', technique: null, objective: 'time', wait: false } as const;
    const inMarkdown = panelMarkdownHandler({ ...editor.services, panelReports: reports });
    const text = runToCompletion(inMarkdown(params));
    const { rows, skipped, setMark } = ask(editor, reports, 'ranking').ranking!;
    for (const { name, inPackage, standingText, inSet } of rows)
      expect(text).toContain(
        `| ${inPackage ? '└ ' : ''}${name} | ${standingText}${inSet ? `, ${setMark}` : ''} |`,
      );
    for (const { name, standingText } of skipped) expect(text).toContain(`| ${name} | ${standingText} |`);
    // What slipped has a row of its own, and the practice set is marked in words.
    expect(rows.filter(({ inSet }) => inSet).length).toBeGreaterThan(2);
    expect(rows.some(({ standing, inSet }) => standing === 'again' && inSet)).toBe(true);
    expect(setMark).toBe('in the practice set');
    expect(text).toContain('Lamp clip + Lamp throw');
    expect(text).toContain('The first three places change with it');
  });

  it('knows where a technique is defined', () => {
    const place = locateTechniqueHandler(editor.services)({
      uri: uriOf('lanternfall.week.yaml'),
      technique: 'lamp-clip',
    });
    const lines = editor.text('lanternfall.route.yaml').split('\n');
    expect(lines[place!.range.start.line]).toMatch(/^ {2}lamp-clip:/);
    expect(
      locateTechniqueHandler(editor.services)({ uri: uriOf('lanternfall.week.yaml'), technique: 'nope' }),
    ).toBeNull();
  });
});

describe('what an edit makes the panel work out again', () => {
  let editor: Editor;
  let reports: PanelReports;
  let version = 1;
  /** In the practice set, so that its curve stands on the plan. */
  let planned = '';
  const all = (): void => panelViews.forEach((view) => void ask(editor, reports, view, true, planned));
  /** What was worked out since the last look, by kind. */
  const worked = (work: () => void): Record<string, number> => {
    const before = { ...reports.counts };
    work();
    const entries = Object.entries(reports.counts) as [keyof typeof before, number][];
    return Object.fromEntries(entries.map(([kind, count]) => [kind, count - before[kind]]));
  };
  beforeAll(async () => {
    editor = await openEditor(sample, { today: TODAY, open: names });
    reports = new PanelReports(editor.services.estimates, new RouteStores());
    planned = ask(editor, reports, 'week').week!.set[0]!.technique;
    all();
  });
  const none = {
    week: 0,
    gap: 0,
    tonight: 0,
    ranking: 0,
    preference: 0,
    curve: 0,
    odds: 0,
    review: 0,
    after: 0,
    compare: 0,
  };

  it('is nothing for the same files again', () => {
    expect(worked(all)).toEqual(none);
  });

  it.each([
    ['a name', 'lanternfall.route.yaml', 'name: Lamp clip', 'name: Lamp clip by the gate'],
    ['a comment', 'lanternfall.week.yaml', '# night ferry', '# the night ferry'],
    ['a note', 'lanternfall.route.yaml', 'measured it twice', 'measured it three times'],
  ])('is nothing for %s', async (_, name, from, to) => {
    await type(editor, name, from, to, ++version);
    expect(worked(all)).toEqual(none);
  });

  it('shows a new name all the same', async () => {
    await type(editor, 'lanternfall.route.yaml', 'clip by the gate', 'clip at the gate', ++version);
    expect(ask(editor, reports, 'curve', true, 'lamp-clip').curve!.name).toBe('Lamp clip at the gate');
  });

  it('is nothing for the ranking whose sentences have another name now', () => {
    const sentences = (): string[] =>
      ask(editor, reports, 'ranking').ranking!.rows.flatMap(({ lines, reason }) => [...lines, reason]);
    expect(worked(() => void sentences())).toEqual(none);
    const named = sentences().filter((text) => /lamp clip/i.test(text));
    expect(named.filter((text) => /needs Lamp clip/.test(text))).not.toEqual([]);
    expect(named.filter((text) => !text.includes('Lamp clip at the gate'))).toEqual([]);
  });

  it('is the odds alone for another target', async () => {
    await type(editor, 'lanternfall.week.yaml', 'target: "41:30"', 'target: "41:25"', ++version);
    expect(worked(all)).toEqual({ ...none, odds: 1 });
  });

  it('is the week and the curve under it for other minutes', async () => {
    await type(editor, 'lanternfall.week.yaml', 'mon: 100', 'mon: 75', ++version);
    // The odds are about the hours of the week file, too.
    expect(worked(all)).toEqual({ ...none, week: 1, tonight: 1, curve: 1, odds: 1 });
  });

  it('is everything for another saving, with the older numbers shown until then', async () => {
    await type(editor, 'lanternfall.route.yaml', 'saves: 3.2', 'saves: 3.3', ++version);
    const shown = ask(editor, reports, 'ranking', false);
    expect(shown.pending).toBe('Ranking what to practise next');
    expect(shown.ranking).not.toBeNull();
    expect(worked(all)).toEqual({
      ...none,
      week: 1,
      tonight: 1,
      ranking: 1,
      curve: 1,
      odds: 1,
      review: 1,
      after: 1,
    });
    expect(ask(editor, reports, 'ranking', false).pending).toBeNull();
  });
});

describe('a route that is new', () => {
  it.each<[string, string, PanelView, RegExp, string[]]>([
    ['an empty file', '', 'week', /still empty/, ['Open the Route', 'Paste a Table…']],
    [
      'no technique',
      'segments:\n  - { id: harbor, time: 90 }\n',
      'ranking',
      /no technique yet/,
      ['Open the Route', 'Paste a Table…'],
    ],
    [
      'no technique',
      'segments:\n  - { id: harbor, time: 90 }\n',
      'curve',
      /no technique yet/,
      ['Open the Route', 'Paste a Table…'],
    ],
    [
      'no segment',
      'techniques:\n  a-b: { difficulty: 3, saves: 2 }\n',
      'odds',
      /no segment yet/,
      ['Open the Route', 'Paste a Table…'],
    ],
    ['no week', harborRoute, 'week', /No day has minutes/, ['Create a Week File…']],
    ['nothing logged', harborRoute, 'progress', /^Nothing is logged yet\./, ['Log a Block…', 'Log a Run']],
    ['no run', harborRoute, 'after', /No single run is logged/, ['Log a Run']],
  ])('says what to do next, with a button for it: %s', async (_, text, view, message, buttons) => {
    const { services, uri } = await openEditor({ 'lanternfall.route.yaml': text }, { today: TODAY });
    const data = runToCompletion(
      panelData(
        { ...services, panelReports: new PanelReports(services.estimates, new RouteStores()) },
        {
          uri,
          view,
          technique: null,
          objective: 'time',
          wait: true,
        },
      ),
    );
    expect(panelDataShape.fits(data)).toBe(true);
    expect(data.message).toMatch(message);
    expect(data.remedies.map((one) => one.text)).toEqual(buttons);
  });

  it('has a ranking, curves and odds without any log', async () => {
    const { services, uri } = await openEditor({ 'lanternfall.route.yaml': harborRoute }, { today: TODAY });
    for (const view of ['ranking', 'curve', 'odds'] as const) {
      const data = runToCompletion(
        panelData(
          { ...services, panelReports: new PanelReports(services.estimates, new RouteStores()) },
          {
            uri,
            view,
            technique: null,
            objective: 'time',
            wait: true,
          },
        ),
      );
      expect(panelDataShape.fits(data), view).toBe(true);
      expect(data.message, view).toBeNull();
      // A reset line needs a time to beat, and this route has none.
      expect(data.remedies.map(({ remedy }) => remedy)).toEqual(view === 'odds' ? ['target'] : []);
    }
  });
});
