import { describe, expect, it } from 'vitest';
import { whoseLogsText } from '../../../server/src/queries/whoseLogs.ts';
import { memoryFileSource } from '../../../server/src/workspace/fileSource.ts';
import { runnerFilesOf } from '../../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../../server/src/workspace/workspace.ts';
import { harborRoute } from '../lsp/editor.ts';

const log = (runner: string | undefined) =>
  `route: a.route.yaml\n${runner === undefined ? '' : `runner: ${JSON.stringify(runner)}\n`}`;

type Runners = Readonly<Record<string, string | undefined>>;

/** A route `a` in the folder `w`, with files that name these runners, by their paths. */
function opened(files: Runners): Workspace {
  const workspace = new Workspace(memoryFileSource({}));
  workspace.edit('file:///w/a.route.yaml', harborRoute);
  for (const [name, runner] of Object.entries(files)) {
    const end = name.includes('practice') ? 'sessions: []\n' : name.includes('runs') ? 'runs: []\n' : '';
    const up = '../'.repeat(name.split('/').length - 1);
    workspace.edit(`file:///w/${name}`, log(runner).replace('a.route', `${up}a.route`) + end);
  }
  return workspace;
}

/** Whose files count among files beside a route, by name; or the sentence that says why that is not known. */
function counts(files: Runners, chosen?: string): string[] | string {
  const workspace = opened(files);
  if (chosen !== undefined) workspace.setChosenRunners(new Map([['file:///w', chosen]]));
  const own = runnerFilesOf(workspace.groups().projects[0]!);
  if ('runners' in own) return whoseLogsText(own);
  const found = [...own.practice, ...own.runs, ...(own.week ? [own.week] : [])];
  return found.map(({ uri }) => uri.replace('file:///w/', ''));
}

/** Who counts in a project, and why. */
const who = (project = opened({}).groups().projects[0]!): string => {
  const own = runnerFilesOf(project);
  return 'runners' in own ? whoseLogsText(own) : `${own.runner ?? 'all'} ${own.reason ?? '·'}`;
};

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

// The layout of a route with several runners: the own files beside it, each of the others in a folder.
const layout: Runners = {
  'a.practice.yaml': 'Cy',
  'a.week.yaml': 'Cy',
  'runners/ada/a.practice.yaml': 'Ada',
  'runners/ada/a.week.yaml': 'Ada',
  'runners/bo/a.practice.yaml': 'Bo',
  'runners/bo/a.runs.yaml': 'Bo',
};
const without = (...names: string[]): Runners =>
  Object.fromEntries(Object.entries(layout).filter(([name]) => !names.includes(name)));

describe('where nobody is chosen, the runner whose files count', () => {
  const project = (files: Runners) => opened(files).groups().projects[0]!;

  it('is the only one named, and then there is no reason to tell', () => {
    expect(who(project({ 'runners/ada/a.practice.yaml': 'Ada' }))).toBe('Ada ·');
    expect(who(project({}))).toBe('all ·');
  });

  it('is the one whose files lie beside the route', () => {
    expect(who(project(layout))).toBe('Cy beside');
    expect(who(project(without('a.week.yaml')))).toBe('Cy beside');
    // Somebody else's week file changes nothing: it lies in a folder of theirs.
    expect(who(project({ ...without('a.week.yaml'), 'runners/bo/a.week.yaml': 'Bo' }))).toBe('Cy beside');
    expect(counts(layout)).toEqual(['a.practice.yaml', 'a.week.yaml']);
  });

  it('is the one of the week file where none or several lie beside the route', () => {
    expect(who(project(without('a.practice.yaml', 'a.week.yaml')))).toBe('Ada week');
    const crowd = { ...without('runners/ada/a.week.yaml'), 'bo.practice.yaml': 'Bo' };
    expect(who(project(crowd))).toBe('Cy week');
  });

  it('is not known where several lie beside the route and the week files name several or none', () => {
    const all = 'The logs hold several runners: Ada, Bo and Cy.';
    expect(who(project({ ...layout, 'bo.practice.yaml': 'Bo' }))).toBe(all);
    const none = without('a.practice.yaml', 'a.week.yaml', 'runners/ada/a.week.yaml');
    expect(who(project(none))).toBe('The logs hold several runners: Ada and Bo.');
  });

  it('is nobody whom only a week file beside the route names: the name may be mistyped', () => {
    const mistyped = { ...without('a.practice.yaml', 'runners/ada/a.week.yaml'), 'a.week.yaml': 'ada' };
    expect(who(project(mistyped))).toBe('The logs hold several runners: Ada, Bo and ada.');
    const known = { ...mistyped, 'a.week.yaml': 'Ada' };
    expect(who(project(known))).toBe('Ada beside');
  });

  it('is not decided by files beside another route, or in a folder whose name begins alike', () => {
    const files = { ...without('a.practice.yaml', 'a.week.yaml', 'runners/ada/a.week.yaml') };
    expect(who(project({ ...files, 'w/a.practice.yaml': 'Cy' }))).toMatch(/^The logs hold several runners/);
  });

  it('is the one whose file is asked about, unless somebody is chosen for the folder', () => {
    const workspace = opened(layout);
    const asked = (name: string) => who(workspace.projectOf(`file:///w/${name}`));
    expect(asked('runners/ada/a.practice.yaml')).toBe('Ada asked');
    expect(asked('runners/bo/a.runs.yaml')).toBe('Bo asked');
    expect(asked('a.route.yaml')).toBe('Cy beside');
    expect(asked('a.week.yaml')).toBe('Cy beside');
    workspace.setChosenRunners(new Map([['file:///w', 'Bo']]));
    expect(asked('runners/ada/a.practice.yaml')).toBe('Bo chosen');
    expect(asked('a.route.yaml')).toBe('Bo chosen');
  });

  it('is the only one named in the files that a command is given', () => {
    const given = (folder: string, files = layout): string => {
      const workspace = opened(files);
      workspace.setGiven((uri) => uri.startsWith(`file:///w/${folder}`));
      return who(workspace.groups().projects[0]);
    };
    expect(given('')).toBe('Cy beside');
    expect(given('runners/ada/')).toBe('Ada asked');
    // A newcomer has a week file and no log yet.
    expect(given('runners/di/', { ...layout, 'runners/di/a.week.yaml': 'Di' })).toBe('Di asked');
    // Whoever asks about the others does not want the answer for the one beside the route.
    expect(given('runners/')).toBe('The logs hold several runners: Ada, Bo and Cy.');
    expect(given('a.route.yaml')).toBe('Cy beside');
  });
});

describe('a project that is asked about by a file of one runner', () => {
  it('is the same object each time, and the usual one where that runner counts anyway', () => {
    const workspace = opened(layout);
    const [usual] = workspace.groups().projects;
    expect(workspace.projectOf('file:///w/a.practice.yaml')).toBe(usual);
    const ada = workspace.projectOf('file:///w/runners/ada/a.week.yaml');
    expect(ada).not.toBe(usual);
    expect(workspace.projectOf('file:///w/runners/ada/a.practice.yaml')).toBe(ada);
  });
});
