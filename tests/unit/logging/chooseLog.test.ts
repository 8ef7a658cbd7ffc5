import { describe, expect, it } from 'vitest';
import { chooseLog } from '../../../server/src/logging/chooseLog.ts';
import { logNameTaken, newLogText } from '../../../server/src/logging/newLog.ts';
import { readSource } from '../../../server/src/files/reading/reading.ts';
import { memoryFileSource } from '../../../server/src/workspace/fileSource.ts';
import { runnerFilesOrAll } from '../../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../../server/src/workspace/workspace.ts';
import { harborRoute } from '../lsp/editor.ts';

const route = 'file:///w/a.route.yaml';

/** The log that is chosen among files beside the route, by name. */
function chosen(files: Readonly<Record<string, string>>, kind: 'practice' | 'runs', asked?: string) {
  const workspace = new Workspace(memoryFileSource({}));
  for (const [name, text] of Object.entries({ 'a.route.yaml': harborRoute, ...files }))
    workspace.edit(`file:///w/${name}`, text);
  const project = workspace.projectOf(route)!;
  const { uri, isNew } = chooseLog(
    project,
    runnerFilesOrAll(project).own,
    kind,
    asked && `file:///w/${asked}`,
  );
  return [uri.replace('file:///w/', ''), isNew];
}

const practice = (day: string) =>
  `route: a.route.yaml\nsessions:\n  - start: ${day}T19:00\n    blocks: [{ technique: lamp-hop, minutes: 25 }]\n`;
const runs = (day: string) => `route: a.route.yaml\nruns: [{ start: ${day}T19:00, total: 3:30 }]\n`;

describe('the log that an entry goes into', () => {
  it('is the one with the latest entry, unless another is asked about', () => {
    const files = { 'x.practice.yaml': practice('2026-10-05'), 'y.practice.yaml': practice('2026-09-05') };
    expect(chosen(files, 'practice')).toEqual(['x.practice.yaml', false]);
    expect(chosen(files, 'practice', 'y.practice.yaml')).toEqual(['y.practice.yaml', false]);
    expect(chosen(files, 'practice', 'a.route.yaml')).toEqual(['x.practice.yaml', false]);
    const both = { 'x.runs.yaml': runs('2026-10-05'), 'y.runs.yaml': runs('2026-11-05'), ...files };
    expect(chosen(both, 'runs')).toEqual(['y.runs.yaml', false]);
  });

  it('is the last by name where several have entries equally late', () => {
    const files = { 'x.practice.yaml': practice('2026-10-05'), 'y.practice.yaml': practice('2026-10-05') };
    expect(chosen(files, 'practice')).toEqual(['y.practice.yaml', false]);
  });

  it('is to be begun beside the route where there is none of its kind', () => {
    expect(chosen({}, 'practice')).toEqual(['a.practice.yaml', true]);
    expect(chosen({ 'x.practice.yaml': practice('2026-10-05') }, 'runs')).toEqual(['a.runs.yaml', true]);
  });
});

describe('a log that is begun', () => {
  it.each(['practice', 'runs'] as const)('of kind %s reads without a problem', (kind) => {
    for (const runner of [undefined, 'Ada', 'null', '# 7']) {
      const reading = readSource(kind, newLogText(kind, 'my route.route.yaml', runner));
      expect(reading.problems).toEqual([]);
      expect(reading.value.route).toBe('my route.route.yaml');
      expect(reading.value.runner).toBe(runner);
      expect(reading.value[kind === 'runs' ? 'runs' : 'sessions']).toEqual([]);
    }
  });

  it('cannot take the name of another file', () => {
    expect(logNameTaken('a.runs.yaml', 'a.route.yaml')).toMatch(/^a\.runs\.yaml exists, .* a\.route\.yaml/);
  });
});
