import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { describe, expect, it } from 'vitest';
import { rankHandler } from '../../../../server/src/lsp/requests/rank.ts';
import { rank } from '../../../../server/src/model/index.ts';
import { rankReport } from '../../../../server/src/reports/rank/rankReport.ts';
import { techniqueNamesOf } from '../../../../server/src/queries/names.ts';
import { buildModelInput } from '../../../../server/src/queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../../../server/src/workspace/runnerFiles.ts';
import { harborRoute, openEditor, shown, uriOf } from '../editor.ts';

const practice =
  'route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n      - { technique: lamp-hop, minutes: 25, landed: [61, 104] }\n';
const today = '2026-10-08';

describe('a ranking', () => {
  it('is what the model says when it is asked directly', async () => {
    const { services } = await openEditor(
      { 'a.route.yaml': harborRoute, 'a.practice.yaml': practice },
      { today },
    );
    const { report, lines } = runToCompletion(rankHandler(services)({ uri: uriOf('a.practice.yaml') }));
    const project = services.workspace.projectOf(uriOf('a.route.yaml'))!;
    // 2026-10-08 is 20734 days after 1970-01-01: `date -d 2026-10-08 +%s` gives 1791417600.
    const question = buildModelInput(project, runnerFilesOf(project) as RunnerFiles, {
      asOf: 1791417600 / 86400,
    });
    expect(report).toEqual(rankReport(rank(question), question.asOfDay, techniqueNamesOf(project)));
    expect(report!.asOf).toBe(today);
    expect(lines.map(({ technique }) => technique)).toEqual(report!.rows.map(({ technique }) => technique));
  });

  it('puts its rows into words, with the place where each technique is defined', async () => {
    const editor = await openEditor({ 'a.route.yaml': harborRoute, 'a.practice.yaml': practice }, { today });
    const { title, lines } = runToCompletion(rankHandler(editor.services)({ uri: uriOf('a.route.yaml') }));
    expect(title).toBe('Lanternfall, any%, as of 2026-10-08');
    const line = lines.find(({ technique }) => technique === 'crate-vault')!;
    expect(line.name).toBe('Crate vault');
    expect(line.gain).toMatch(/^\S+ s per hour \(\S+ to \S+ s\)$/);
    expect(line.detail).toMatch(
      /^in a run \S+ % → \S+ % after \S+ (min|h) in \d+ blocks? · competent then: \S+ % likely$/,
    );
    expect(line.reason).toMatch(/\.$/);
    expect(shown(editor, line.location!)).toBe('a.route.yaml:13:2 crate-vault');
  });

  it('says of each technique where it stands, and marks the practice set', async () => {
    const week = 'route: a.route.yaml\nleave_out: [crate-vault]\n';
    const files = {
      'a.route.yaml': harborRoute.replace('needs: [lamp-hop]', 'needs: []'),
      'a.practice.yaml': practice.replace('[61, 104]', '[11, 104]'),
      'a.week.yaml': week,
    };
    const { services } = await openEditor(files, { today });
    const { lines, skipped } = runToCompletion(rankHandler(services)({ uri: uriOf('a.route.yaml') }));
    const standings = [...lines, ...skipped].map(({ technique, standing, standingText, inSet }) => [
      technique,
      { standing, standingText, inSet },
    ]);
    expect(Object.fromEntries(standings)).toEqual({
      'lamp-hop': { standing: 'learning', standingText: 'being learned, in the practice set', inSet: true },
      'lamp-clip': { standing: 'not-begun', standingText: 'not begun', inSet: false },
      'crate-vault': { standing: 'left-out', standingText: 'left out', inSet: false },
    });
  });

  it('lists what is left out, with the reason', async () => {
    const week = 'route: a.route.yaml\nstates: { lamp-hop: in-run }\nleave_out: [lamp-clip]\n';
    const { services } = await openEditor({ 'a.route.yaml': harborRoute, 'a.week.yaml': week }, { today });
    const { lines, skipped } = runToCompletion(rankHandler(services)({ uri: uriOf('a.week.yaml') }));
    expect(lines.map(({ technique }) => technique)).toEqual(['crate-vault']);
    expect(skipped.map(({ technique }) => technique).sort()).toEqual(['lamp-clip', 'lamp-hop']);
    const all = runToCompletion(rankHandler(services)({ uri: uriOf('a.week.yaml'), all: true }));
    expect(all.lines.map(({ technique }) => technique).sort()).toEqual(['crate-vault', 'lamp-hop']);
  });

  it('begins the day when the week says so', async () => {
    const week = (hour: string) => `route: a.route.yaml\nday_starts: "${hour}"\n`;
    const asked = async (hour: string) => {
      const files = { 'a.route.yaml': harborRoute, 'a.week.yaml': week(hour) };
      const { services } = await openEditor(files, { today: '2026-10-08T02:15' });
      return runToCompletion(rankHandler(services)({ uri: uriOf('a.route.yaml') })).report!.asOf;
    };
    expect(await asked('04:00')).toBe('2026-10-07');
    expect(await asked('02:00')).toBe('2026-10-08');
  });
});

describe('where there is no ranking', () => {
  const message = async (files: Record<string, string>, name: string) => {
    const { services } = await openEditor(files);
    const result = runToCompletion(rankHandler(services)({ uri: uriOf(name) }));
    expect(result.report).toBeUndefined();
    expect(result.lines).toEqual([]);
    return result.message;
  };

  it('says why, and what to do', async () => {
    const files = {
      'a.route.yaml': harborRoute,
      'b.week.yaml': 'route: no.route.yaml\n',
      'c.week.yaml': 'block: 25\n',
    };
    expect(await message(files, 'notes.txt')).toContain('Open one of these');
    expect(await message(files, 'b.week.yaml')).toContain(
      'no.route.yaml, which is not among the opened files',
    );
    expect(await message(files, 'c.week.yaml')).toContain('does not say which route');
  });

  it('names the runners where nobody chose one', async () => {
    const log = (runner: string) => `runner: ${runner}\n${practice}`;
    const files = {
      'a.route.yaml': harborRoute,
      'a.practice.yaml': log('wick'),
      'b.practice.yaml': log('ember'),
    };
    expect(await message(files, 'a.route.yaml')).toContain('ember and wick');
  });

  it('ranks a route without any technique to nothing, and says so', async () => {
    const { services } = await openEditor({ 'a.route.yaml': 'game: Lanternfall\ncategory: any%\n' });
    const result = runToCompletion(rankHandler(services)({ uri: uriOf('a.route.yaml') }));
    expect(result.lines).toEqual([]);
    expect(result.message).toBe('No technique is left to rank.');
  });
});
