import type { TextEdit } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { completionProvider } from '../../../../server/src/lsp/editing/completion.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { edited, harborRoute, openEditor, textIn } from '../editor.ts';

const head = 'route: a.route.yaml\n';
const session = `${head}sessions:\n  - start: 2026-10-04\n    blocks:\n      - { technique: lamp-hop, minutes: 20 }\n`;
const run = `${head}runs:\n  - { start: 2026-10-04, total: 3:41 }\n`;

/** What is offered at the cursor of a log, and the log with one of it taken. */
async function at(name: string, text: string, snippets = true) {
  const editor = await openEditor({ 'a.route.yaml': harborRoute, [name]: text }, { today: '2026-10-05' });
  Object.assign(editor.client, { snippets });
  const items = completionProvider(editor.services)(editor.params);
  return {
    labels: items.map(({ label }) => label),
    order: items.map(({ sortText }) => sortText),
    taken: (label: string): string => {
      const { textEdit, additionalTextEdits = [] } = items.find((item) => item.label === label)!;
      const edits = [textEdit as TextEdit, ...additionalTextEdits];
      const words = edits.map(({ range, newText }) => ({
        range,
        newText: newText.replace(/\$\{\d+:([^}]*)\}/g, '$1'),
      }));
      return edited(editor.text(name), words);
    },
    /** What the edit of an entry replaces. */
    replaced: (label: string): string =>
      textIn(editor.text(name), (items.find((item) => item.label === label)!.textEdit as TextEdit).range),
  };
}
const practice = (text: string) => at('a.practice.yaml', text);
const runs = (text: string) => at('a.runs.yaml', text);

describe('at the end of a practice log', () => {
  it.each(['‸', '‸\n', '    ‸', '      ‸\n', '\n  ‸\n\n'])(
    'a new session and a new block come first, without a dash: %j',
    async (end) => {
      const { labels, order, taken } = await practice(session + end);
      expect(labels.slice(0, 2)).toEqual(['new session', 'new block']);
      expect([...order].sort()).toEqual(order);
      const [before, after] = end.split('‸') as [string, string];
      const kept = session + before.replace(/ *$/, '');
      const block = '- { technique: id, minutes: 25, landed: [0, 0] }';
      expect(taken('new block')).toBe(`${kept}      ${block}${after}`);
      expect(taken('new session')).toBe(`${kept}  - start: 2026-10-05\n    blocks:\n      ${block}${after}`);
    },
  );

  it('what is typed already is replaced', async () => {
    for (const typed of ['n', 'new', 'new s', 'session']) {
      const { labels, replaced } = await practice(`${session}  ${typed}‸\n`);
      expect(labels).toContain('new session');
      expect(replaced('new session')).toBe(`  ${typed}`);
    }
    expect((await practice(`${session}  bl‸\n`)).labels.slice(0, 1)).toEqual(['new block']);
    expect((await practice(`${session}  run‸\n`)).labels).not.toContain('new session');
  });

  it('they keep to the indentation that the log has', async () => {
    const flat = `${head}sessions:\n- start: 2026-10-04\n  blocks:\n  - technique: lamp-hop\n    minutes: 20\n‸`;
    const { taken } = await practice(flat);
    expect(taken('new block')).toContain('    minutes: 20\n  - { technique: id,');
    expect(taken('new session')).toContain('    minutes: 20\n- start: 2026-10-05\n  blocks:\n    - {');
  });

  it('they end a note of several lines', async () => {
    const { taken } = await practice(`${session}    notes: |\n      A long evening.\n      ‸`);
    expect(taken('new session')).toContain('      A long evening.\n  - start: 2026-10-05\n');
    expect(readSource('practice', taken('new session')).problems).toEqual([]);
  });

  it('a log without a session gets its first one, and the brackets of its empty list go', async () => {
    for (const none of [`${head}sessions: []\n`, `${head}sessions:\n`]) {
      const { labels, taken } = await practice(`${none}‸`);
      expect(labels[0]).toBe('new session');
      expect(labels).not.toContain('new block');
      const text = taken('new session');
      expect(text).toMatch(/^route: a\.route\.yaml\nsessions: ?\n {2}- start: 2026-10-05\n {4}blocks:\n/);
      expect(readSource('practice', text).problems).toEqual([]);
    }
  });

  it('they are offered only where they would be entries of the log', async () => {
    const none = async (text: string): Promise<void> => {
      const { labels } = await practice(text);
      expect(labels.filter((label) => label.startsWith('new ') && label !== 'new practice log')).toEqual([]);
    };
    await none(`${session}notes: mine\n‸`);
    await none(session.replace('sessions:\n', '‸\nsessions:\n'));
    await none(`${head}sessions: [{ start: 2026-10-04, blocks: [] }]\n‸`);
    await none(`${head}‸`);
    // A session whose blocks stand in brackets can be followed by another one only.
    const brackets = `${head}sessions:\n  - { start: 2026-10-04, blocks: [{ technique: lamp-hop, minutes: 20 }] }\n‸`;
    const { labels } = await practice(brackets);
    expect(labels.filter((label) => label.startsWith('new '))).toEqual(['new session']);
  });

  it('an editor that cannot fill in places is offered none', async () => {
    expect((await at('a.practice.yaml', `${session}‸`, false)).labels).not.toContain('new session');
  });
});

it('at the end of a run log, a new run and a new evening come first', async () => {
  const { labels, taken } = await runs(`${run}‸`);
  expect(labels.slice(0, 2)).toEqual(['new run', 'new evening']);
  expect(taken('new run')).toBe(`${run}  - start: 2026-10-05\n    total: 40:00\n    tried: { id: [0, 1] }`);
  expect(readSource('runs', taken('new evening')).problems).toEqual([]);
});
