import { describe, expect, it, vi } from 'vitest';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { hoverProvider } from '../../../../server/src/lsp/editing/hover.ts';
import { semanticTokensProvider } from '../../../../server/src/lsp/editing/semanticTokens.ts';
import { tokenModifiers, type TokenModifier } from '../../../../server/src/lsp/editing/tokenLegend.ts';
import { logFileOf } from '../../../../server/src/lsp/practice/logFile.ts';
import { addToWeekHandler } from '../../../../server/src/lsp/requests/addToWeek.ts';
import { panelHandler } from '../../../../server/src/lsp/requests/panel.ts';
import { rankHandler } from '../../../../server/src/lsp/requests/rank.ts';
import { resolveProject } from '../../../../server/src/lsp/requests/resolveProject.ts';
import { setStateHandler } from '../../../../server/src/lsp/requests/setState.ts';
import { tonightHandler } from '../../../../server/src/lsp/requests/tonight.ts';
import { whoseLogsHandler } from '../../../../server/src/lsp/requests/whoseLogs.ts';
import type { FileEdit } from '../../../../server/src/protocol/fileEdit.ts';
import { openEditor, harborRoute, updateEstimates, uriOf, type Editor } from '../editor.ts';

const today = '2026-10-08';
const log = (route: string, runner: string, landed: number) =>
  `route: ${route}\nrunner: ${runner}\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n` +
  `      - { technique: crate-vault, minutes: 25, landed: [${landed}, 104] }\n`;
const up = '../../a.route.yaml';
/** A route with one runner's files beside it and two runners' files in folders of their own. */
const files = {
  'a.route.yaml': harborRoute,
  'a.practice.yaml': log('a.route.yaml', 'Cy', 50),
  'runners/ada/a.practice.yaml': log(up, 'Ada', 100),
  'runners/ada/a.week.yaml': `route: ${up}\nrunner: Ada\ndays: { thu: 60 }\n`,
  'runners/bo/a.practice.yaml': log(up, 'Bo', 4),
};
const ada = uriOf('runners/ada/a.practice.yaml');
const bo = uriOf('runners/bo/a.practice.yaml');
const route = uriOf('a.route.yaml');

const choose = ({ services }: Editor, runner: string) =>
  services.checks.setChosenRunners({ 'file:///w': runner });
const ask = ({ services }: Editor, uri: string) => {
  const whose = whoseLogsHandler(services)({ uri });
  if ('message' in whose) throw new Error(whose.message);
  return whose;
};
const rate = ({ services }: Editor, uri: string): number =>
  runToCompletion(rankHandler(services)({ uri, all: true })).report!.rows.find(
    ({ technique }) => technique === 'crate-vault',
  )!.runNow.mean;
const into = async ({ services }: Editor, kind: 'practice' | 'runs', uri: string) => {
  const resolved = resolveProject(services.workspace, uri);
  if ('message' in resolved) throw new Error(resolved.message);
  const file = await logFileOf(services, resolved.project, resolved.own, kind, uri);
  if ('message' in file) throw new Error(file.message);
  return file;
};
/** The URI of the file that an edit is for, and what it writes there. */
const created = (edit: FileEdit | null | undefined): string =>
  `${edit?.uri} ${edit?.changes.map(({ newText }) => newText).join()}`;

describe('runners with a folder of their own, beside a route', () => {
  it('leave every answer about the route to the runner whose files lie beside it', async () => {
    const editor = await openEditor(files, { today });
    expect(ask(editor, route)).toMatchObject({
      counts: { runner: 'Cy' },
      byFiles: { runner: 'Cy' },
      chosen: false,
      reason: 'The logs of Cy count: nobody else has files beside the route.',
      problem: null,
      runners: [
        { runner: 'Ada', files: 'runners/ada: a.practice.yaml, a.week.yaml' },
        { runner: 'Bo', files: 'runners/bo: a.practice.yaml' },
        { runner: 'Cy', files: 'a.practice.yaml' },
      ],
    });
    expect(rate(editor, route)).toBe(rate(editor, uriOf('a.practice.yaml')));
    expect(editor.services.findings.of(ada).map(({ code }) => code)).toEqual([]);
  });

  it('are meant where a file of theirs is asked about', async () => {
    const editor = await openEditor(files, { today });
    expect(ask(editor, ada)).toMatchObject({
      counts: { runner: 'Ada' },
      reason: 'The logs of Ada count: they were asked about.',
    });
    expect(rate(editor, ada)).toBeGreaterThan(rate(editor, route));
    expect(rate(editor, bo)).toBeLessThan(rate(editor, route));
    const { services } = editor;
    const lands = (uri: string) => {
      const position = { line: 5, character: 22 };
      return JSON.stringify(runToCompletion(hoverProvider(services)({ textDocument: { uri }, position })));
    };
    expect(lands(ada)).toContain('Crate vault');
    expect(lands(ada)).not.toBe(lands(bo).replaceAll('runners/bo', 'runners/ada'));
  });

  it('are named where their numbers are shown', async () => {
    const { services } = await openEditor(files, { today });
    const view = { view: 'review', technique: null, objective: 'time', wait: true } as const;
    const panel = (uri: string) => runToCompletion(panelHandler(services)({ uri, ...view }));
    expect(panel(ada).route).toBe('Lanternfall, any%, Ada');
    expect(panel(route).route).toBe('Lanternfall, any%, Cy');
    expect(JSON.stringify(panel(ada).review)).toContain('The logs of Ada count: they were asked about.');
    const tonight = runToCompletion(tonightHandler(services)({ uri: ada }));
    expect('words' in tonight && tonight.words.title).toMatch(/, Ada$/);
  });

  it('are not meant by their files where somebody else is chosen for the folder', async () => {
    const editor = await openEditor(files, { today });
    choose(editor, 'Bo');
    expect(ask(editor, ada)).toMatchObject({
      counts: { runner: 'Bo' },
      byFiles: { runner: 'Ada' },
      chosen: true,
      reason: 'The logs of Bo count, as chosen.',
    });
    expect(rate(editor, ada)).toBe(rate(editor, bo));
    expect((await into(editor, 'practice', ada)).uri).toBe(bo);
    // Also where the choice is what the files say of the route.
    choose(editor, 'Cy');
    expect(ask(editor, ada)).toMatchObject({ counts: { runner: 'Cy' }, byFiles: { runner: 'Ada' } });
    expect((await into(editor, 'practice', ada)).uri).toBe(uriOf('a.practice.yaml'));
  });

  it('get what is logged into their own files, and new ones into their folder', async () => {
    const editor = await openEditor(files, { today });
    expect(await into(editor, 'practice', ada)).toEqual({ uri: ada, begin: null });
    expect(await into(editor, 'practice', uriOf('runners/ada/a.week.yaml'))).toEqual({
      uri: ada,
      begin: null,
    });
    expect(await into(editor, 'practice', route)).toEqual({ uri: uriOf('a.practice.yaml'), begin: null });
    const runs = await into(editor, 'runs', ada);
    expect(runs.uri).toBe(uriOf('runners/ada/a.runs.yaml'));
    expect(created(runs.begin)).toContain('route: "../../a.route.yaml"\nrunner: Ada\nruns: []\n');
    const own = await into(editor, 'runs', route);
    expect(own.uri).toBe(uriOf('a.runs.yaml'));
    expect(created(own.begin)).toContain('route: a.route.yaml\nrunner: Cy\nruns: []\n');
  });

  it('get changes of the week into a file of their own', async () => {
    const { services } = await openEditor(files, { today });
    const week = await addToWeekHandler(services)({ uri: bo, what: 'minutes', text: '60' });
    expect(created(week.edit)).toContain(uriOf('runners/bo/a.week.yaml'));
    expect(created(week.edit)).toContain('route: "../../a.route.yaml"\nrunner: Bo\n');
    const params = { technique: 'crate-vault', state: 'in-run' } as const;
    const state = await setStateHandler(services)({ uri: ada, ...params });
    expect(created(state.edit)).toContain(uriOf('runners/ada/a.week.yaml'));
    const cy = await setStateHandler(services)({ uri: route, ...params });
    expect(created(cy.edit)).toContain(uriOf('a.week.yaml'));
    expect(created(cy.edit)).toContain('route: a.route.yaml\nrunner: Cy\n');
  });

  it('do not make the numbers of the route be worked out again', async () => {
    const editor = await openEditor(files, { today });
    const { inlineEstimates, panelReports, workspace } = editor.services;
    workspace.groups().projects.forEach((project) => inlineEstimates.of(project));
    await updateEstimates(editor);
    const worked = inlineEstimates.updateCount;
    const view = { view: 'ranking', technique: null, objective: 'time', wait: true } as const;
    const show = (uri: string) => runToCompletion(panelHandler(editor.services)({ uri, ...view }));
    for (const uri of [route, ada, route, ada, bo, route, ada]) show(uri);
    expect(panelReports.counts.ranking).toBe(3);
    expect(runToCompletion(inlineEstimates.stale(workspace.groups().projects))).toEqual([]);
    expect(inlineEstimates.updateCount).toBe(worked);
  });

  it('have their own standings between the lines of their files', async () => {
    const own = (runner: string, state: string) =>
      `route: ${up}\nrunner: ${runner}\nstates: { crate-vault: ${state} }\n`;
    const weeks = {
      'runners/ada/a.week.yaml': own('Ada', 'in-run'),
      'runners/bo/a.week.yaml': own('Bo', 'unlearned'),
    };
    const editor = await openEditor({ ...files, ...weeks }, { today, open: Object.keys(weeks) });
    const { services } = editor;
    const modifiersIn = (name: string): readonly number[] => {
      const { data } = semanticTokensProvider(services)({ textDocument: { uri: uriOf(name) } });
      return data.filter((_, at) => at % 5 === 4);
    };
    const bits = (modifier: TokenModifier) => [1 << tokenModifiers.indexOf(modifier)];
    expect(Object.keys(weeks).map(modifiersIn)).toEqual([[0], [0]]);
    // Asked about once, they are worked out in a pause.
    await vi.waitFor(
      () => expect(Object.keys(weeks).map(modifiersIn)).toEqual([bits('inRun'), bits('aside')]),
      20_000,
    );
    services.checks.dispose();
  });

  it('are forgotten with their last file', async () => {
    const editor = await openEditor(files, { today });
    const { services } = editor;
    const project = services.workspace.projectOf(bo)!;
    const cache = services.estimates.cache(project);
    services.checks.schedule();
    services.checks.checkPendingEdits();
    expect(services.estimates.cache(project)).toBe(cache);
    services.workspace.forget(bo);
    services.checks.schedule();
    services.checks.checkPendingEdits();
    expect(services.estimates.cache(project)).not.toBe(cache);
  });
});
