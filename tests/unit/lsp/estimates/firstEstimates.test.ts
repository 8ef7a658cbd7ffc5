import { readFileSync } from 'node:fs';
import { CancellationTokenSource } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { codeLenses } from '../../../../server/src/lsp/editing/codeLens.ts';
import { openEditor, type Editor } from '../editor.ts';

const sample = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);

const requestToken = () => new CancellationTokenSource();
const projectOf = ({ session, uri }: Editor) => session.workspace.projectOf(uri)!;

describe('the first numbers of a route', () => {
  it('are worked out once for all requests that wait for them', async () => {
    const editor = await openEditor(sample);
    const { firstEstimates, inlineEstimates } = editor.session;
    expect(codeLenses(editor.session, editor.params)).toEqual([]);
    await Promise.all([
      firstEstimates.available(projectOf(editor), requestToken().token),
      firstEstimates.available(projectOf(editor), requestToken().token),
    ]);
    expect(codeLenses(editor.session, editor.params).length).toBeGreaterThan(20);
    await firstEstimates.available(projectOf(editor), requestToken().token);
    expect(inlineEstimates.updateCount).toBe(1);
    editor.session.dispose();
  });

  it('are given up once every request is cancelled, and worked out for the next one', async () => {
    const editor = await openEditor(sample);
    const { firstEstimates, inlineEstimates } = editor.session;
    const cancelled = [requestToken(), requestToken()];
    const waits = cancelled.map(({ token }) => firstEstimates.available(projectOf(editor), token));
    for (const source of cancelled) source.cancel();
    // It comes before the work for the others has noticed that nobody waits, and must not end with it.
    const late = firstEstimates.available(projectOf(editor), requestToken().token);
    await Promise.all([...waits, late]);
    expect(inlineEstimates.of(projectOf(editor))).toBeDefined();

    const other = await openEditor(sample);
    const only = requestToken();
    const wait = other.session.firstEstimates.available(projectOf(other), only.token);
    only.cancel();
    await wait;
    expect(other.session.inlineEstimates.of(projectOf(other))).toBeUndefined();
    expect(other.session.inlineEstimates.updateCount).toBe(0);
    await other.session.firstEstimates.available(projectOf(other), requestToken().token);
    expect(other.session.inlineEstimates.of(projectOf(other))).toBeDefined();
    for (const { session } of [editor, other]) session.dispose();
  });

  it('are not waited for where there can be none', async () => {
    const runs = (runner: string) => `route: lanternfall.route.yaml\nrunner: ${runner}\nruns: []\n`;
    const editor = await openEditor({ ...sample, 'b.runs.yaml': runs('Ada'), 'c.runs.yaml': runs('Ben') });
    await editor.session.firstEstimates.available(projectOf(editor), requestToken().token);
    expect(codeLenses(editor.session, editor.params)).toEqual([]);
    editor.session.dispose();
  });
});
