import { describe, expect, it } from 'vitest';
import { adjustableCodes, parseSeverities } from '../../../server/src/rules/severities.ts';
import { codeActionProvider } from '../../../server/src/lsp/actions/codeActions.ts';
import { neverStopped, openEditor } from '../lsp/editor.ts';

const route = `game: Lanternfall
category: any%
restart: -5
segments:
  - { id: harbor, time: 90, techniques: [lamp-hop, wall-kik] }
techniques:
  lamp-hop: { difficulty: 2, saves: 1.5, loses: 1, practice: { attempt: 20, reload: 40 } }
  wall-kick: { difficulty: 2, saves: 1.5, loses: 1 }
`;

async function shown(rules: unknown): Promise<string[]> {
  const editor = await openEditor({ 'a.route.yaml': route });
  editor.services.checks.setRules(rules);
  editor.services.checks.checkPendingEdits();
  return editor.services.findings.of(editor.uri).map(({ code, severity }) => `${code} ${severity}`);
}

const usual = [
  'out-of-range error',
  'unknown-technique error',
  'slow-cycle warning',
  'technique-unused hint',
];

describe('severities set in the editor', () => {
  it('take the place of what codes have of their own, and turn codes off', async () => {
    expect(await shown({})).toEqual(usual);
    expect(
      await shown({ 'slow-cycle': 'hint', 'technique-unused': 'off', 'unknown-technique': 'warning' }),
    ).toEqual(['out-of-range error', 'unknown-technique warning', 'slow-cycle hint']);
    expect(await shown({ 'technique-unused': 'error' })).toContain('technique-unused error');
  });

  it('leave alone what reading reports, and pass over what makes no sense', async () => {
    for (const rules of [
      { 'out-of-range': 'off' },
      { 'slow-cycle': 'loud', nothing: 'off' },
      null,
      'off',
      ['off'],
    ])
      expect(await shown(rules)).toEqual(usual);
    expect(adjustableCodes).not.toContain('out-of-range');
    expect(parseSeverities({ 'slow-cycle': 'off', constructor: 'off' })).toEqual(
      new Map([['slow-cycle', 'off']]),
    );
  });

  it('hold for a comment that allows a code turned off: it is not found needless', async () => {
    const text = route.replace(
      'techniques:\n  lamp',
      'techniques:\n  # allow slow-cycle: an old console\n  lamp',
    );
    const editor = await openEditor({ 'a.route.yaml': text });
    editor.services.checks.setRules({ 'slow-cycle': 'off' });
    editor.services.checks.checkPendingEdits();
    const found = editor.services.findings.of(editor.uri).map(({ code }) => code);
    expect(found).not.toContain('needless-allowance');
    expect(found).not.toContain('slow-cycle');
  });

  it('are told to the client at once', async () => {
    const editor = await openEditor({ 'a.route.yaml': route });
    editor.services.checks.setRules({ 'slow-cycle': 'off' });
    editor.services.checks.checkPendingEdits();
    const last = editor.published.filter(({ uri }) => uri === editor.uri).at(-1);
    expect(last?.diagnostics.map(({ code }) => code)).not.toContain('slow-cycle');
    editor.services.checks.setRules({});
    editor.services.checks.checkPendingEdits();
    const after = editor.published.filter(({ uri }) => uri === editor.uri).at(-1);
    expect(after?.diagnostics.map(({ code }) => code)).toContain('slow-cycle');
  });
});

describe('a fix that a person should decide on', () => {
  const unwritten = {
    'a.route.yaml':
      'game: Lanternfall\ncategory: any%\nsegments: [{ id: harbor, time: 90 }]\ntechniques: {}\n',
    'a.runs.yaml': 'route: a.route.yaml\nruns: [{ start: 2026-10-05, ended: { at: harbor, why: reset } }]\n',
  };

  it('is offered at its finding and is not among all fixes at once', async () => {
    const editor = await openEditor(unwritten);
    const start = { line: 1, character: 0 };
    const asked = (only: string) =>
      codeActionProvider(editor.services)(
        {
          textDocument: { uri: editor.uri },
          range: { start, end: start },
          context: { diagnostics: [], only: [only] },
        },
        neverStopped,
      );
    const titles = (await asked('quickfix')).map(({ title, isPreferred }) => [title, isPreferred === true]);
    expect(titles).toContainEqual(['Write “restart: 10”', false]);
    expect(await asked('source.fixAll')).toEqual([]);
  });
});
