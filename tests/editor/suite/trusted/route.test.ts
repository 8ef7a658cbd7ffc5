import assert from 'node:assert/strict';
import { after, before, describe, it } from 'mocha';
import {
  commands,
  MarkdownString,
  SymbolKind,
  type CompletionList,
  type DocumentSymbol,
  type Hover,
  type Location,
  type LocationLink,
  type Position,
  type TextDocument,
} from 'vscode';
import { printedRanking } from '../support/commandLine.ts';
import { extensionFolder, fileUri, rangeOf, show, started, within } from '../support/editor.ts';

describe('the words of a route and its logs', () => {
  before(started);
  after(() => commands.executeCommand('workbench.action.closeAllEditors'));

  it('have the numbers of a technique behind them, in the route and in a log', async () => {
    const { rows } = await printedRanking(extensionFolder(), fileUri('lanternfall.route.yaml').fsPath);
    const printed = rows.find(({ technique }) => technique === 'chimney-kick');
    assert.ok(printed);
    const percent = (rate: number): string => `${(100 * rate).toFixed(0)} %`;

    const route = await show('lanternfall.route.yaml');
    const text = await hoverText(route, within(route, 'chimney-kick', '\ntechniques:'));
    assert.match(text, /^\*\*Chimney kick\*\* · difficulty 6 of 10/);
    assert.ok(text.includes(`Lands in practice now | ${percent(printed.practiceNow.mean)} (`), text);
    assert.ok(text.includes(`Lands in a run now | ${percent(printed.runNow.mean)} (`), text);
    assert.ok(text.includes(`Break-even in a run | ${percent(printed.breakEven)};`), text);
    assert.match(text, /\| \d+ % \(\d+ to \d+ %\) \|/);
    assert.match(text, /Practice gains \| [\d.]+ to [\d.]+ s per hour/);
    assert.match(text, /From \d+ practice days \(\d+ of \d+ landed\)/);
    assert.match(text, /```text\n2026-10-12 [▁▂▃▄▅▆▇█]+│[▁▂▃▄▅▆▇█]{4} 2026-12-07\n```/);

    const log = await show('lanternfall.practice.yaml');
    const fromLog = await hoverText(log, within(log, 'chimney-kick'));
    // The last line has a link, which depends on the file that the hover is in.
    const numbers = (whole: string): string[] => whole.split('\n').slice(0, -1);
    assert.deepEqual(numbers(fromLog), numbers(text));
    assert.match(fromLog.split('\n').at(-1) ?? '', /lanternfall\.route\.yaml/);
  });

  it('have a break-even that is losses over savings and losses together', async () => {
    const route = await show('lanternfall.route.yaml');
    const text = await hoverText(route, within(route, 'stair-weave', '\ntechniques:'));
    // Source: where a miss costs time only, break-even is loses / (saves + loses); here 1 / (3.4 + 1) = 22.7 %.
    // Common practice of the trade, no source (mark P).
    assert.ok(text.includes('Break-even in a run | 23 %;'), text);
  });

  it('say what a key means and a segment takes', async () => {
    const route = await show('lanternfall.route.yaml');
    assert.match(await hoverText(route, within(route, 'spread')), /second/);
    assert.match(
      await hoverText(route, within(route, 'fog-bridge')),
      /\*\*Fog bridge\*\* · usual time 1:47\.9/,
    );
  });

  it('are offered where a key or an id can stand', async () => {
    const log = await show('lanternfall.practice.yaml');
    const keys = await offered(log, rangeOf(log, 'technique', 'blocks:').start);
    for (const key of ['technique', 'attempts', 'tape']) assert.ok(keys.includes(key), keys.join(' '));
    assert.ok(!keys.includes('minutes'), 'A key was offered that stands there already.');
    const ids = await offered(log, within(log, 'wall-kick'));
    for (const id of ['wall-kick', 'lamp-throw', 'raft-cut']) assert.ok(ids.includes(id), ids.join(' '));
    assert.ok(!ids.includes('fog-bridge'), 'A segment was offered for a technique.');

    const week = await show('lanternfall.week.yaml');
    const states = await offered(week, within(week, 'in-run'));
    for (const state of ['unlearned', 'learning', 'in-run'])
      assert.ok(states.includes(state), states.join(' '));
    const runs = await show('lanternfall.runs.yaml');
    const segments = await offered(runs, within(runs, 'tide-stairs', 'at: '));
    assert.ok(segments.includes('last-lamp') && !segments.includes('lamp-throw'), segments.join(' '));
  });

  it('lead from a log and a week to the place in the route where they are defined', async () => {
    const route = await show('lanternfall.route.yaml');
    const steps = [
      ['lanternfall.practice.yaml', 'barrow-boost', '', rangeOf(route, 'barrow-boost', '\ntechniques:')],
      ['lanternfall.runs.yaml', 'awning-bounce@second', '', rangeOf(route, 'awning-bounce', '\ntechniques:')],
      ['lanternfall.runs.yaml', 'tide-stairs', 'at: ', rangeOf(route, 'tide-stairs', 'id: ')],
      ['lanternfall.week.yaml', 'oil-slick', 'states:', rangeOf(route, 'oil-slick', '\ntechniques:')],
    ] as const;
    for (const [name, word, behind, place] of steps) {
      const document = await show(name);
      const found = await commands.executeCommand<(Location | LocationLink)[]>(
        'vscode.executeDefinitionProvider',
        document.uri,
        within(document, word, behind),
      );
      const [first, ...others] = found.map((target) =>
        'targetUri' in target
          ? { uri: target.targetUri, range: target.targetSelectionRange ?? target.targetRange }
          : target,
      );
      assert.deepEqual(others, [], name);
      assert.equal(first?.uri.path, route.uri.path, name);
      assert.deepEqual(first?.range, place, `${name}: ${word}`);
    }
  });

  it('make an outline of segments with their techniques, and of techniques', async () => {
    const route = await show('lanternfall.route.yaml');
    const symbols = await outline(route);
    const segments = symbols.find(({ name }) => name === 'segments')?.children ?? [];
    const techniques = symbols.find(({ name }) => name === 'techniques')?.children ?? [];
    const ids = (pattern: RegExp): (string | undefined)[] =>
      [...route.getText().matchAll(pattern)].map(([, id]) => id);
    assert.deepEqual(
      segments.map(({ name }) => name),
      ids(/^ {2}- id: (\S+)$/gm),
    );
    assert.deepEqual(
      techniques.map(({ name }) => name),
      ids(/^ {2}([a-z-]+):$/gm),
    );
    assert.deepEqual(
      segments[0]?.children.map(({ name }) => name),
      ['crate-vault', 'gate-roll', 'lamp-clip'],
    );
    const vault = techniques[0];
    assert.equal(vault?.kind, SymbolKind.Function);
    assert.deepEqual(vault?.selectionRange, rangeOf(route, 'crate-vault', '\ntechniques:'));

    const log = await show('lanternfall.practice.yaml');
    const sessions = (await outline(log)).find(({ name }) => name === 'sessions')?.children ?? [];
    assert.equal(sessions.length, log.getText().match(/^ {2}- start:/gm)?.length);
    assert.deepEqual(
      sessions[0]?.children.map(({ name }) => name),
      ['wall-kick', 'lens-align', 'barrow-boost', 'rope-swing'],
    );
  });
});

async function hoverText(document: TextDocument, position: Position): Promise<string> {
  const hovers = await commands.executeCommand<Hover[]>(
    'vscode.executeHoverProvider',
    document.uri,
    position,
  );
  return hovers
    .flatMap(({ contents }) => contents)
    .map((content) => (content instanceof MarkdownString ? content.value : ''))
    .join('\n');
}

async function offered(document: TextDocument, position: Position): Promise<string[]> {
  const { items } = await commands.executeCommand<CompletionList>(
    'vscode.executeCompletionItemProvider',
    document.uri,
    position,
  );
  return items.map(({ label }) => (typeof label === 'string' ? label : label.label));
}

function outline({ uri }: TextDocument): Thenable<DocumentSymbol[]> {
  return commands.executeCommand<DocumentSymbol[]>('vscode.executeDocumentSymbolProvider', uri);
}
