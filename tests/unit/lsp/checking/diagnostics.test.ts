import { describe, expect, it } from 'vitest';
import { codeActionProvider } from '../../../../server/src/lsp/actions/codeActions.ts';
import { statusHandler } from '../../../../server/src/lsp/requests/status.ts';
import { neverStopped, edited, harborRoute, openEditor, textIn, uriOf, type Editor } from '../editor.ts';
import { waitUntil } from '../../../helpers/eventually.ts';

const week = 'route: a.route.yaml\npin: [lamp-hip]\n';
const files = { 'a.route.yaml': harborRoute, 'a.week.yaml': week };

/** What the editor would show for a file now: `code: word`. */
function shownIn(editor: Editor, name: string): string[] {
  const last = editor.published.filter(({ uri }) => uri === uriOf(name)).at(-1);
  return (last?.diagnostics ?? []).map(({ code, range }) => `${code}: ${textIn(editor.text(name), range)}`);
}

function change(editor: Editor, name: string, version: number, text: string): void {
  editor.services.sync.change(uriOf(name), [{ text }], version);
}

describe('publishing', () => {
  it('speaks of files that are not open, too, and of open ones with their version', async () => {
    const editor = await openEditor(files, { open: ['a.route.yaml'] });
    expect(shownIn(editor, 'a.week.yaml')).toEqual(['unknown-technique: lamp-hip']);
    const versions = new Map(editor.published.map(({ uri, version }) => [uri, version]));
    expect(versions.get(uriOf('a.week.yaml'))).toBeUndefined();
    expect(versions.get(uriOf('a.route.yaml'))).toBe(1);
  });

  it('follows an edit in one file with what it means for another', async () => {
    const editor = await openEditor(files, { open: ['a.route.yaml'] });
    change(editor, 'a.route.yaml', 2, harborRoute.replaceAll('lamp-hop', 'lamp-hip'));
    editor.services.checks.checkPendingEdits();
    expect(shownIn(editor, 'a.week.yaml')).toEqual([]);
  });

  it('says nothing twice', async () => {
    const editor = await openEditor(files, { open: ['a.route.yaml'] });
    const before = editor.published.length;
    change(editor, 'a.route.yaml', 2, `${harborRoute}# more\n`);
    editor.services.checks.checkPendingEdits();
    // Of the edited file, that its new version was looked at; of the other, nothing.
    expect(editor.published.slice(before)).toEqual([
      { uri: uriOf('a.route.yaml'), version: 2, diagnostics: [] },
    ]);
    editor.services.checks.checkPendingEdits();
    expect(editor.published.length).toBe(before + 1);
  });

  it('checks a burst of edits once, for its last version', async () => {
    const editor = await openEditor(files, { open: ['a.route.yaml'] });
    const before = editor.published.length;
    for (let version = 2; version < 30; version++) {
      const text = harborRoute.replace('difficulty: 6', `difficulty: ${version}`);
      change(editor, 'a.route.yaml', version, text);
    }
    const said = await waitUntil(() => {
      const all = editor.published.slice(before).filter(({ uri }) => uri === uriOf('a.route.yaml'));
      return all.at(-1)?.version === 29 && all;
    });
    expect(said.map(({ version }) => version)).toEqual([29]);
    expect(said[0]!.diagnostics.map(({ code }) => code)).toEqual(['difficulty-out-of-scale']);
  });

  it('takes back what it said of a file that is gone', async () => {
    const editor = await openEditor({ 'a.route.yaml': harborRoute }, { open: ['a.route.yaml'] });
    const uri = 'file:///elsewhere/b.week.yaml';
    await editor.services.sync.open({ uri, languageId: 'routewright', version: 1, text: 'route: 3\n' });
    editor.services.checks.checkPendingEdits();
    expect(editor.published.at(-1)).toMatchObject({ uri, version: 1 });
    expect(editor.published.at(-1)!.diagnostics).not.toEqual([]);
    await editor.services.sync.close(uri);
    editor.services.checks.checkPendingEdits();
    expect(editor.published.at(-1)).toEqual({ uri, diagnostics: [] });
    expect(editor.services.workspace.file(uri)).toBeUndefined();
  });

  it('links the places that a finding speaks of', async () => {
    const route = harborRoute.replace(
      'lamp-hop: { difficulty: 2,',
      'lamp-hop: { difficulty: 2, needs: [lamp-clip],',
    );
    const editor = await openEditor({ 'a.route.yaml': route });
    const cycle = editor.published.at(-1)!.diagnostics.find(({ code }) => code === 'needs-cycle')!;
    expect(cycle.source).toBe('routewright');
    expect(cycle.relatedInformation!.length).toBeGreaterThan(0);
    for (const { location } of cycle.relatedInformation!)
      expect(textIn(route, location.range)).toMatch(/lamp-(hop|clip)/);
  });

  it('makes forecasts after a pause, and keeps their place while the text moves', async () => {
    const attempts = Array.from(
      { length: 12 },
      (_, day) => `  - { start: 2026-10-${10 + day}, total: "3:40", tried: { lamp-clip: [0, 4] } }\n`,
    ).join('');
    const runs = `route: a.route.yaml\nruns:\n${attempts}`;
    const editor = await openEditor(
      { 'a.route.yaml': harborRoute, 'a.runs.yaml': runs },
      { open: ['a.route.yaml'], today: '2026-10-23' },
    );
    const places = () =>
      editor.published
        .at(-1)!
        .diagnostics.flatMap(({ code, range }) => (code === 'lands-too-rarely' ? [range.start.line] : []));
    expect(places()).toEqual([]);
    const [line] = await waitUntil(() => places().length > 0 && places());
    expect(harborRoute.split('\n')[line!]).toContain('lamp-clip');
    change(editor, 'a.route.yaml', 2, `# one line more\n${harborRoute}`);
    editor.services.checks.checkPendingEdits();
    expect(places()).toEqual([line! + 1]);
  });

  it('shows the first of very many findings, and how many are left', async () => {
    const uses = Array.from({ length: 700 }, (_, i) => `      - nowhere-${i}\n`).join('');
    const editor = await openEditor({
      'a.route.yaml': `game: Lanternfall\ncategory: any%\nsegments:\n  - id: harbor\n    time: 90\n    techniques:\n${uses}`,
    });
    const { diagnostics } = editor.published.at(-1)!;
    expect(diagnostics.length).toBe(501);
    // One of them says that the model works with fewer techniques in a segment.
    expect(diagnostics.at(-1)!.message).toContain('201 more findings');
  });
});

describe('the words of a diagnostic', () => {
  it('have no backticks, which an editor would show as they are', async () => {
    const { published } = await openEditor({ ...files, 'a.week.yaml': week.replace('lamp-hop', 'lamp-hip') });
    const messages = published.flatMap(({ diagnostics }) =>
      diagnostics.map(({ message }) => JSON.stringify(message)),
    );
    expect(messages.join('\n')).toContain('“lamp-hip”');
    expect(messages.filter((message) => message.includes('`'))).toEqual([]);
  });
});

describe('quick fixes', () => {
  it('offers the fix of a finding that the cursor touches, for the version that is open', async () => {
    const editor = await openEditor({ ...files, 'a.week.yaml': week.replace('lamp-hip', 'lamp‸-hip') });
    const range = { start: editor.position, end: editor.position };
    const actions = await codeActionProvider(editor.services)(
      {
        ...editor.params,
        range,
        context: { diagnostics: [] },
      },
      neverStopped,
    );
    expect(actions[0]!.title).toBe('Change to “lamp-hop”');
    expect(actions[0]!.isPreferred).toBe(true);
    const change = actions[0]!.edit!.documentChanges![0] as { textDocument: object; edits: [] };
    expect(change.textDocument).toEqual({ uri: uriOf('a.week.yaml'), version: 1 });
    expect(edited(week, change.edits)).toBe(week.replace('lamp-hip', 'lamp-hop'));
  });

  it('offers none away from a finding, nor where other actions are asked for', async () => {
    const editor = await openEditor({ ...files, 'a.week.yaml': week.replace('route:', 'ro‸ute:') });
    const range = { start: editor.position, end: editor.position };
    expect(
      await codeActionProvider(editor.services)(
        { ...editor.params, range, context: { diagnostics: [] } },
        neverStopped,
      ),
    ).toEqual([]);
    const whole = { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } };
    const only = { diagnostics: [], only: ['refactor'] };
    expect(
      await codeActionProvider(editor.services)(
        { ...editor.params, range: whole, context: only },
        neverStopped,
      ),
    ).toEqual([]);
  });
});

it('the status counts errors and warnings in all files of the route', async () => {
  const { services } = await openEditor(files, { open: ['a.route.yaml'] });
  expect(statusHandler(services)({ uri: uriOf('a.route.yaml') })).toEqual({
    route: 'Lanternfall, any%',
    problems: 1,
  });
  expect(statusHandler(services)({ uri: uriOf('a.week.yaml') })).toEqual({
    route: 'Lanternfall, any%',
    problems: 1,
  });
  expect(statusHandler(services)({ uri: uriOf('b.txt') })).toEqual({ route: null, problems: 0 });
});
