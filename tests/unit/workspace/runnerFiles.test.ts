import { describe, expect, it } from 'vitest';
import { whoseLogsText } from '../../../server/src/queries/whoseLogs.ts';
import { memoryFileSource } from '../../../server/src/workspace/fileSource.ts';
import { runnerFilesOf } from '../../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../../server/src/workspace/workspace.ts';
import { harborRoute } from '../lsp/editor.ts';

const log = (runner: string | undefined) =>
  `route: a.route.yaml\n${runner === undefined ? '' : `runner: ${JSON.stringify(runner)}\n`}`;

/** Whose files count among files beside a route, by name; or the sentence that says why that is not known. */
function counts(files: Readonly<Record<string, string | undefined>>, chosen?: string): string[] | string {
  const workspace = new Workspace(memoryFileSource({}));
  workspace.edit('file:///w/a.route.yaml', harborRoute);
  for (const [name, runner] of Object.entries(files)) {
    const end = name.includes('practice') ? 'sessions: []\n' : name.includes('runs') ? 'runs: []\n' : '';
    workspace.edit(`file:///w/${name}`, log(runner) + end);
  }
  if (chosen !== undefined) workspace.setChosenRunners(new Map([['file:///w', chosen]]));
  const own = runnerFilesOf(workspace.groups().projects[0]!);
  if ('runners' in own) return whoseLogsText(own);
  const found = [...own.practice, ...own.runs, ...(own.week ? [own.week] : [])];
  return found.map(({ uri }) => uri.replace('file:///w/', ''));
}

const two = { 'ada.practice.yaml': 'Ada', 'bo.practice.yaml': 'Bo', 'bo.runs.yaml': 'Bo' };

describe('the runner whose files count', () => {
  it('is not guessed among several', () => {
    expect(counts(two)).toBe('The logs hold several runners: Ada and Bo.');
  });

  it('is the one chosen for the folder; files that name nobody count, too', () => {
    expect(counts(two, 'Ada')).toEqual(['ada.practice.yaml']);
    const files = { ...two, 'x.practice.yaml': undefined, 'a.week.yaml': undefined };
    expect(counts(files, 'Bo')).toEqual([
      'bo.practice.yaml',
      'x.practice.yaml',
      'bo.runs.yaml',
      'a.week.yaml',
    ]);
  });

  it('is the one of the week file where nobody is chosen, if a log has that name', () => {
    expect(counts({ ...two, 'a.week.yaml': 'Bo' })).toEqual([
      'bo.practice.yaml',
      'bo.runs.yaml',
      'a.week.yaml',
    ]);
    expect(counts({ ...two, 'a.week.yaml': 'Bo' }, 'Ada')).toEqual(['ada.practice.yaml']);
    expect(counts({ ...two, 'a.week.yaml': 'bo' })).toBe('The logs hold several runners: Ada, Bo and bo.');
    expect(counts({ 'ada.practice.yaml': 'Ada', 'a.week.yaml': 'ada' })).toBe(
      'The logs hold several runners: Ada and ada.',
    );
    expect(counts({ ...two, 'a.week.yaml': 'Ada', 'b.week.yaml': 'Bo' })).toBe(
      'The logs hold several runners: Ada and Bo.',
    );
  });

  it('is not somebody else where the chosen one is gone', () => {
    expect(counts(two, 'Cy')).toBe('No log here names the runner Cy. Ada and Bo are named.');
    expect(counts({ 'ada.practice.yaml': 'Ada' }, 'Cy')).toBe(
      'No log here names the runner Cy. Ada is named.',
    );
    expect(counts({ 'x.practice.yaml': undefined }, 'Cy')).toEqual(['x.practice.yaml']);
  });

  it('has a name that is only ever a name', () => {
    const hostile = { 'a.practice.yaml': '__proto__', 'b.practice.yaml': 'x\u001b[31m\u202ey'.repeat(200) };
    const said = counts(hostile);
    expect(said).toMatch(/^The logs hold several runners: __proto__ and x/);
    expect(said.length).toBeLessThan(200);
    expect(counts(hostile, '__proto__')).toEqual(['a.practice.yaml']);
    const crowd = Object.fromEntries(
      Array.from({ length: 30 }, (_, at) => [`r${at}.practice.yaml`, `R${at}`]),
    );
    expect(counts(crowd)).toBe('The logs hold several runners: R0, R1, R10, R11 and 26 others.');
  });
});
