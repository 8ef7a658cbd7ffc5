import { runnerFilesOrAll } from '../../../../server/src/workspace/runnerFiles.ts';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { codeLensProvider } from '../../../../server/src/lsp/editing/codeLens.ts';
import { inlayHintProvider } from '../../../../server/src/lsp/editing/inlayHints.ts';
import { rankHandler } from '../../../../server/src/lsp/requests/rank.ts';
import { showInPanelCommand } from '../../../../server/src/protocol/panel/showInPanel.ts';
import { comparisonInput, compareSides } from '../../../../server/src/reports/compare/comparison.ts';
import { runnerFilesOf, type RunnerFiles } from '../../../../server/src/workspace/runnerFiles.ts';
import { standingLabels } from '../../../../server/src/queries/standingText.ts';
import { formatRange, formatPercent, formatTwoFigures } from '../../../../server/src/text/format.ts';
import { formatTime } from '../../../../server/src/text/time.ts';
import { neverStopped, stoppedAtOnce, openEditor, textIn, type Editor } from '../editor.ts';
import { fileAt } from '../../../../server/src/lsp/documents/fileServices.ts';
import { lastDay } from '../../../helpers/lastDay.ts';

const sample = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);
const route = 'lanternfall.route.yaml';

async function counted(files: Record<string, string> = sample): Promise<Editor> {
  const editor = await openEditor(files);
  lensesOf(editor);
  for (const project of runToCompletion(
    editor.services.inlineEstimates.stale(editor.services.workspace.groups().projects),
  ))
    await editor.services.inlineEstimates.update(project, neverStopped);
  return editor;
}

function lensesOf(editor: Editor): Record<string, string> {
  const text = fileAt(editor.services.workspace, editor.uri)!.reading.text;
  return Object.fromEntries(
    codeLensProvider(editor.services)(editor.params).map(({ range, command }) => [
      textIn(text, range).replace(/^id: /, ''),
      command!.title,
    ]),
  );
}

function hintsOf(editor: Editor, lines: [number, number] = [0, 9999]): string {
  const { text } = fileAt(editor.services.workspace, editor.uri)!.reading;
  const range = { start: { line: lines[0], character: 0 }, end: { line: lines[1], character: 0 } };
  const hints = inlayHintProvider(editor.services)({ ...editor.params, range });
  const rows = text.split('\n');
  for (const { position, label } of [...hints].reverse()) {
    const row = rows[position.line]!;
    rows[position.line] =
      `${row.slice(0, position.character)}⟨${label as string}⟩${row.slice(position.character)}`;
  }
  return rows.join('\n');
}

function change(editor: Editor, from: string, to: string): void {
  const { text } = fileAt(editor.services.workspace, editor.uri)!.reading;
  editor.services.sync.change(editor.uri, [{ text: text.replace(from, to) }], 2);
}

describe('code lens', () => {
  it('says over each technique what the ranking says of it, and over each segment its expected time', async () => {
    const editor = await counted();
    const lenses = lensesOf(editor);
    const { report } = runToCompletion(rankHandler(editor.services)({ uri: editor.uri }));
    const rows = new Map(report!.rows.map((row, index) => [row.technique, { row, place: index + 1 }]));
    const standings = new Map<string, number>();
    for (const { technique, standing, reason } of report!.standings) {
      standings.set(standing, (standings.get(standing) ?? 0) + 1);
      const found = rows.get(technique);
      const gain =
        found &&
        `${formatTwoFigures(found.row.gainPerHour)} s per hour of practice (${formatRange(found.row, 's')})`;
      const label = standingLabels[standing];
      const title = label[0]!.toUpperCase() + label.slice(1);
      if (standing === 'again') expect(lenses[technique]).toBe(`${title} · ${reason}`);
      else if (standing === 'in-run' || !found)
        expect(lenses[technique]).toMatch(new RegExp(`^${title} · lands [<>]?\\d+ % \\(.* %\\) in a run$`));
      else if (standing === 'not-begun')
        expect(lenses[technique]).toBe(`No. ${found.place} to learn next · ${gain}`);
      else expect(lenses[technique]).toBe(`${title} · no. ${found.place} in the ranking · ${gain}`);
    }
    // The sample has a technique of each of these.
    for (const kind of ['again', 'in-run', 'learning', 'waiting', 'not-begun'])
      expect(standings.get(kind), kind).toBeGreaterThan(0);
    const [project] = editor.services.workspace.groups().projects;
    const own = runnerFilesOf(project!) as RunnerFiles;
    const side = { label: 'x', project: project!, own };
    // The comparison of a route with itself comes about by another way through the server.
    const { segments } = compareSides(comparisonInput(side, side, { day: lastDay }), []).report;
    for (const { id, a } of segments) expect(lenses[id]).toMatch(`Expected ${formatTime(a!)} · `);
    expect(lenses.harbor).toMatch(/with .*Crate vault/);
    expect(lenses['fog-bridge']).toMatch(/nothing tried here yet$/);
    expect(Object.keys(lenses)).toHaveLength(project!.segments.length + project!.techniques.size);
  });

  it('says no number that a hint beside it shows, where the editor shows hints', async () => {
    const editor = await counted();
    const alone = lensesOf(editor);
    editor.services.routeHints.setShown(true);
    const lenses = lensesOf(editor);
    const rates = /lands [<>]?\d+ %|pays from/;
    expect(Object.values(alone).filter((title) => rates.test(title)).length).toBeGreaterThan(3);
    expect(Object.values(lenses).filter((title) => rates.test(title))).toEqual([]);
    // Each still says where the technique stands, and why.
    const { report } = runToCompletion(rankHandler(editor.services)({ uri: editor.uri }));
    const inRun = report!.standings.filter(({ standing }) => standing === 'in-run');
    expect(inRun.length).toBeGreaterThan(0);
    for (const { technique } of inRun)
      expect(lenses[technique]).toMatch(
        /^In the run · [A-Z].+ chance that trying it in runs pays is [a-z ]*\d+ %[.:]/,
      );
    expect(Object.keys(lenses)).toEqual(Object.keys(alone));
    // The hints of the same places have the rates.
    expect(hintsOf(editor).match(/⟨lands /g)!.length).toBe(
      editor.services.workspace.groups().projects[0]!.techniques.size,
    );
  });

  it('opens the panel where the editor has one: the curve of a technique, the run at a segment', async () => {
    const editor = await counted();
    const clicks = () =>
      Object.fromEntries(
        codeLensProvider(editor.services)(editor.params).map(({ range, command }) => [
          textIn(sample[route]!, range).replace(/^id: /, ''),
          [command!.command, ...((command!.arguments ?? []) as unknown[])],
        ]),
      );
    expect(new Set(Object.values(clicks()).map(([command]) => command))).toEqual(new Set(['']));
    Object.assign(editor.client, { showsInPanel: true });
    const { uri } = editor.params.textDocument;
    const { 'tide-skip': technique, harbor: segment } = clicks();
    expect(technique).toEqual([showInPanelCommand, { uri, view: 'curve', technique: 'tide-skip' }]);
    expect(segment).toEqual([showInPanelCommand, { uri, view: 'odds', technique: null }]);
  });

  it('are worked out once where two ask at the same time, also where the first of them gives up', async () => {
    const editor = await openEditor(sample);
    const { inlineEstimates, workspace } = editor.services;
    const [project] = workspace.groups().projects;
    const both = await Promise.all([0, 1].map(() => inlineEstimates.update(project!, neverStopped)));
    expect(both).toEqual([true, true]);
    expect(inlineEstimates.updateCount).toBe(1);
    change(editor, 'saves: 3.2', 'saves: 3.4');
    await editor.services.sync.ready();
    const [changed] = workspace.groups().projects;
    // Both find the model's input made, so the first of them begins.
    runToCompletion(editor.services.estimates.modelInput(changed!, runnerFilesOrAll(changed!).own));
    const stopped = inlineEstimates.update(changed!, {
      get isCancellationRequested() {
        return inlineEstimates.updateCount > 1;
      },
    });
    expect(await Promise.all([stopped, inlineEstimates.update(changed!, neverStopped)])).toEqual([
      false,
      true,
    ]);
    expect(inlineEstimates.updateCount).toBe(3);
    expect(runToCompletion(inlineEstimates.stale([changed!]))).toEqual([]);
    editor.services.checks.dispose();
  });

  it('costs nothing to ask for: numbers are worked out only after a pause, and only where one changed', async () => {
    const editor = await counted();
    const { services } = editor;
    expect(services.inlineEstimates.updateCount).toBe(1);
    change(editor, 'name: Harbor gate', 'name: The harbor gate');
    await services.sync.ready();
    lensesOf(editor);
    hintsOf(editor);
    expect(services.inlineEstimates.updateCount).toBe(1);
    expect(runToCompletion(services.inlineEstimates.stale(services.workspace.groups().projects))).toEqual([]);
    change(editor, 'saves: 3.2', 'saves: 3.4');
    await services.sync.ready();
    expect(
      runToCompletion(services.inlineEstimates.stale(services.workspace.groups().projects)),
    ).toHaveLength(1);
    services.checks.dispose();
  });

  it('stays as it was while a line is half typed', async () => {
    const editor = await counted();
    const before = lensesOf(editor);
    const { services } = editor;
    const original = sample[route]!;
    for (const [from, to] of [
      ['saves: 3.2', 'saves: '],
      ['  crate-vault:\n', '  crate-va\n  crate-vault:\n'],
      ['    luck: [{ chance: 0.25, adds: 6 }]', '    luck: [{ chance: 0.25, adds'],
      ['segments:\n', '<<<<<<< ours\nsegments:\n'],
      ['    time: 2:08\n', '\t time: 2:08\n'],
    ] as const) {
      expect(original).toContain(from);
      services.sync.change(editor.uri, [{ text: original.replace(from, to) }], 2);
      await services.sync.ready();
      expect(runToCompletion(services.inlineEstimates.stale(services.workspace.groups().projects))).toEqual(
        [],
      );
      expect(lensesOf(editor)).toEqual(before);
    }
    services.checks.dispose();
  });

  it('is silent where several runners are named, and until numbers are there', async () => {
    const week = sample['lanternfall.week.yaml']!.replace('runner: Wren\n', '');
    const two = { ...sample, 'b.runs.yaml': `route: ${route}\nrunner: Ada\nruns: []\n` };
    const named = {
      ...two,
      'lanternfall.week.yaml': week,
      'c.runs.yaml': `route: ${route}\nrunner: Ben\nruns: []\n`,
    };
    expect(lensesOf(await counted(named))).toEqual({});
    expect(lensesOf(await openEditor(sample))).toEqual({});
  });

  it('stops where an edit comes in between', async () => {
    const editor = await openEditor(sample);
    lensesOf(editor);
    const [project] = editor.services.workspace.groups().projects;
    expect(await editor.services.inlineEstimates.update(project!, stoppedAtOnce)).toBe(false);
    expect(lensesOf(editor)).toEqual({});
  });
});

describe('inlay hints', () => {
  it('gives bare numbers their unit, and leaves times with a colon alone', async () => {
    const text = `game: Lanternfall
category: any%
restart: 14
segments:
  - id: harbor
    time: 1:32.4
    spread: 1.1
    techniques: [{ use: lamp-hop, saves: 9..16, loses: 9 }]
techniques:
  lamp-hop: { difficulty: 2, saves: 1.5, miss: [{ chance: 1, loses: 2 }] }
`;
    expect(hintsOf(await openEditor({ 'a.route.yaml': text }))).toBe(
      text
        .replace('restart: 14', 'restart: 14⟨s⟩')
        .replace('spread: 1.1', 'spread: 1.1⟨s⟩')
        .replace('saves: 9..16, loses: 9 ', 'saves: 9..16⟨s⟩, loses: 9⟨s⟩ ')
        .replace('saves: 1.5', 'saves: 1.5⟨s⟩')
        .replace('loses: 2 ', 'loses: 2⟨s⟩ '),
    );
    const week =
      'route: a.route.yaml\nblock: 25\ndays: { mon: 100 }\ntimes: { harbor: { time: 88, spread: 2 } }\n';
    expect(hintsOf(await openEditor({ 'a.week.yaml': week }))).toBe(
      'route: a.route.yaml\nblock: 25⟨min⟩\ndays: { mon: 100⟨min⟩ }\ntimes: { harbor: { time: 88⟨s⟩, spread: 2⟨s⟩ } }\n',
    );
  });

  it('shows how well a technique lands and how well it must', async () => {
    const editor = await counted();
    const { report } = runToCompletion(rankHandler(editor.services)({ uri: editor.uri, all: true }));
    const shown = hintsOf(editor);
    for (const { technique, runNow, breakEven, reason } of report!.rows) {
      expect(shown).toMatch(new RegExp(`\\n  ${technique}:⟨lands ${formatPercent(runNow.mean)} \\(`));
      // A row may look ahead, to the run with others learned; a hint tells what holds today.
      if (breakEven !== null && !reason.includes('in the run by then'))
        expect(shown).toContain(`⟨break-even ${formatPercent(breakEven)}⟩`);
    }
  });

  it('answers for the lines that are asked about only', async () => {
    const editor = await counted();
    const line = sample[route]!.split('\n').findIndex((row) => row.startsWith('restart:'));
    expect(hintsOf(editor, [line, line + 1]).match(/⟨.*?⟩/g)).toEqual(['⟨s⟩']);
  });

  it('places them behind names with emoji as the protocol counts', async () => {
    const text =
      'game: L\ncategory: any%\ntechniques:\n  lamp-hop: { name: "🏮🏮", difficulty: 2, saves: 1.5, loses: 1 }\n';
    expect(hintsOf(await openEditor({ 'a.route.yaml': text }))).toContain('saves: 1.5⟨s⟩, loses: 1⟨s⟩ }');
  });
});
