import { readFileSync } from 'node:fs';
import { CancellationTokenSource } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { codeLensProvider } from '../../../../server/src/lsp/editing/codeLens.ts';
import { openEditor, type Editor } from '../editor.ts';

const sample = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);

const requestToken = () => new CancellationTokenSource();
const projectOf = ({ services, uri }: Editor) => services.workspace.projectOf(uri)!;

describe('the first numbers of a route', () => {
  it('are worked out once for all requests that wait for them', async () => {
    const editor = await openEditor(sample);
    const { firstEstimates, inlineEstimates } = editor.services;
    expect(codeLensProvider(editor.services)(editor.params)).toEqual([]);
    await Promise.all([
      firstEstimates.available(projectOf(editor), requestToken().token),
      firstEstimates.available(projectOf(editor), requestToken().token),
    ]);
    expect(codeLensProvider(editor.services)(editor.params).length).toBeGreaterThan(20);
    await firstEstimates.available(projectOf(editor), requestToken().token);
    expect(inlineEstimates.updateCount).toBe(1);
    editor.services.checks.dispose();
  });

  it('are given up once every request is cancelled, and worked out for the next one', async () => {
    const editor = await openEditor(sample);
    const { firstEstimates, inlineEstimates } = editor.services;
    const cancelled = [requestToken(), requestToken()];
    const waits = cancelled.map(({ token }) => firstEstimates.available(projectOf(editor), token));
    for (const source of cancelled) source.cancel();
    // It comes before the work for the others has noticed that nobody waits, and must not end with it.
    const late = firstEstimates.available(projectOf(editor), requestToken().token);
    await Promise.all([...waits, late]);
    expect(inlineEstimates.of(projectOf(editor))).toBeDefined();

    const other = await openEditor(sample);
    const only = requestToken();
    const wait = other.services.firstEstimates.available(projectOf(other), only.token);
    only.cancel();
    await wait;
    expect(other.services.inlineEstimates.of(projectOf(other))).toBeUndefined();
    expect(other.services.inlineEstimates.updateCount).toBe(0);
    await other.services.firstEstimates.available(projectOf(other), requestToken().token);
    expect(other.services.inlineEstimates.of(projectOf(other))).toBeDefined();
    for (const { services } of [editor, other]) services.checks.dispose();
  });

  it('are not waited for where there can be none', async () => {
    const runs = (runner: string) => `route: lanternfall.route.yaml\nrunner: ${runner}\nruns: []\n`;
    const week = sample['lanternfall.week.yaml']!.replace('runner: Wren\n', '');
    const editor = await openEditor({
      ...sample,
      'lanternfall.week.yaml': week,
      'b.runs.yaml': runs('Ada'),
      'c.runs.yaml': runs('Ben'),
    });
    await editor.services.firstEstimates.available(projectOf(editor), requestToken().token);
    expect(codeLensProvider(editor.services)(editor.params)).toEqual([]);
    editor.services.checks.dispose();
  });
});
