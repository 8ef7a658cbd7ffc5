import { describe, expect, it } from 'vitest';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { panelHandler } from '../../../../server/src/lsp/requests/panel.ts';
import { rankHandler } from '../../../../server/src/lsp/requests/rank.ts';
import { tonightHandler } from '../../../../server/src/lsp/requests/tonight.ts';
import { whoseLogsHandler } from '../../../../server/src/lsp/requests/whoseLogs.ts';
import { logFileOf } from '../../../../server/src/lsp/practice/logFile.ts';
import { resolveProject } from '../../../../server/src/lsp/requests/resolveProject.ts';
import { panelViews } from '../../../../server/src/protocol/panel/views.ts';
import { harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';

const today = '2026-10-08';
const log = (runner: string, landed: number) =>
  `route: a.route.yaml\nrunner: ${runner}\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n` +
  `      - { technique: crate-vault, minutes: 25, landed: [${landed}, 104] }\n`;
const files = {
  'a.route.yaml': harborRoute,
  'ada.practice.yaml': log('Ada', 100),
  'bo.practice.yaml': log('Bo', 4),
  'shared.practice.yaml': 'route: a.route.yaml\nsessions:\n  - { start: 2026-10-06, blocks: [] }\n',
  'a.week.yaml': 'route: a.route.yaml\ndays: { thu: 60 }\n',
};

const choose = ({ services }: Editor, runner: unknown) =>
  services.checks.setChosenRunners(runner === undefined ? {} : { 'file:///w': runner });
const ask = ({ services }: Editor) => whoseLogsHandler(services)({ uri: uriOf('a.week.yaml') });
const ranked = ({ services }: Editor) =>
  runToCompletion(rankHandler(services)({ uri: uriOf('a.route.yaml') }));
const vault = (editor: Editor) =>
  ranked(editor).report?.rows.find(({ technique }) => technique === 'crate-vault')?.runNow.mean;
const severalFound = ({ services }: Editor) => {
  services.checks.checkPendingEdits();
  return services.workspace
    .all()
    .flatMap(({ uri }) => services.findings.of(uri))
    .filter(({ code }) => code === 'several-runners')
    .map(({ message }) => message);
};

describe('logs of several runners in one folder', () => {
  it('are listed with their files, those with a week file first', async () => {
    const editor = await openEditor(
      { ...files, 'bo.week.yaml': 'route: a.route.yaml\nrunner: Bo\n' },
      { today },
    );
    expect(ask(editor)).toMatchObject({
      folder: 'file:///w',
      runners: [
        { runner: 'Bo', name: 'Bo', files: 'bo.practice.yaml, bo.week.yaml' },
        { runner: 'Ada', name: 'Ada', files: 'ada.practice.yaml' },
      ],
      counts: { runner: 'Bo' },
      byFiles: { runner: 'Bo' },
      chosen: false,
      reason: 'The logs of Bo count: the week file says so.',
      choice: true,
      problem: null,
    });
  });

  it('give no answer, and the way to one, while nobody is chosen', async () => {
    const editor = await openEditor(files, { today });
    const sentence = 'The logs hold several runners: Ada and Bo.';
    expect(ask(editor)).toMatchObject({ counts: null, byFiles: null, choice: true, problem: sentence });
    expect(ranked(editor).message).toContain(sentence);
    expect(severalFound(editor)).toEqual([expect.stringContaining(sentence)]);
    for (const view of panelViews) {
      const params = {
        uri: uriOf('a.week.yaml'),
        view,
        technique: null,
        objective: 'time',
        wait: true,
      } as const;
      const { message, remedies } = runToCompletion(panelHandler(editor.services)(params));
      expect(message, view).toContain(sentence);
      expect(remedies, view).toEqual([{ remedy: 'runner', text: 'Choose Whose Logs Count…' }]);
    }
  });

  it('are followed by every answer once a runner is chosen, and at each later choice', async () => {
    const editor = await openEditor(files, { today });
    const tonight = () =>
      JSON.stringify(runToCompletion(tonightHandler(editor.services)({ uri: uriOf('a.route.yaml') })));
    choose(editor, 'Ada');
    expect(severalFound(editor)).toEqual([]);
    const [ada, adaTonight] = [vault(editor), tonight()];
    choose(editor, 'Bo');
    expect(severalFound(editor)).toEqual([]);
    const [bo, boTonight] = [vault(editor), tonight()];
    expect(ada ?? 1).toBeGreaterThan(bo!);
    expect(boTonight).not.toBe(adaTonight);
    choose(editor, undefined);
    expect(ranked(editor).report).toBeUndefined();
  });

  it('get new entries into the log that names the chosen runner, not into one that names nobody', async () => {
    const editor = await openEditor(files, { today });
    choose(editor, 'Bo');
    const resolved = resolveProject(editor.services.workspace, uriOf('a.route.yaml'));
    if ('message' in resolved) throw new Error(resolved.message);
    const { project, own } = resolved;
    const into = (uri: string) => logFileOf(editor.services, project, own, 'practice', uri);
    expect(await into(uriOf('a.route.yaml'))).toEqual({ uri: uriOf('bo.practice.yaml'), begin: null });
    expect(await into(uriOf('ada.practice.yaml'))).toEqual({ uri: uriOf('bo.practice.yaml'), begin: null });
    expect(await into(uriOf('shared.practice.yaml'))).toEqual({
      uri: uriOf('shared.practice.yaml'),
      begin: null,
    });
  });

  it("are nobody else's where the chosen runner is gone, and a choice that is no name is none", async () => {
    const editor = await openEditor(files, { today });
    choose(editor, 'Cy');
    const sentence = 'No log here names the runner Cy. Ada and Bo are named.';
    expect(ask(editor)).toMatchObject({ counts: null, choice: true, problem: sentence });
    expect(ranked(editor).message).toContain(sentence);
    expect(severalFound(editor)).toEqual([expect.stringContaining(sentence)]);
    for (const runner of [7, null, '', ['Ada'], {}]) {
      choose(editor, runner);
      expect(ask(editor)).toMatchObject({ problem: 'The logs hold several runners: Ada and Bo.' });
    }
    editor.services.checks.setChosenRunners('Ada');
    expect(ask(editor)).toMatchObject({ problem: 'The logs hold several runners: Ada and Bo.' });
  });

  it('have names that are shown without what would act on a screen', async () => {
    const hostile = { ...files, 'bo.practice.yaml': log('"x\\e[31m\\u202ey"', 4) };
    const editor = await openEditor(hostile, { today });
    const whose = ask(editor);
    if ('message' in whose) throw new Error(whose.message);
    const [, other] = whose.runners;
    expect(other?.runner).toBe('x\u001b[31m\u202ey');
    expect([whose.problem, other?.name, ranked(editor).message].join()).not.toMatch(/[\u001b\u202e]/);
    choose(editor, other?.runner);
    expect(ask(editor)).toMatchObject({ problem: null, counts: { runner: other?.runner } });
  });

  it('offer no choice where one runner is named or none', async () => {
    const one = { ...files, 'bo.practice.yaml': files['shared.practice.yaml'] };
    expect(ask(await openEditor(one, { today }))).toMatchObject({ choice: false, counts: { runner: 'Ada' } });
    const none = { ...one, 'ada.practice.yaml': files['shared.practice.yaml'] };
    expect(ask(await openEditor(none, { today }))).toMatchObject({
      choice: false,
      counts: null,
      problem: null,
    });
  });
});
