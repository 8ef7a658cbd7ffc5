import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { before, describe, it } from 'mocha';
import { commands, Uri, workspace } from 'vscode';
import { extensionFolder, started } from '../support/editor.ts';

interface Binding {
  readonly key: string;
  readonly command: string;
  readonly when?: string;
}

/** The editor's own key bindings, from its page of default keys. */
async function defaultBindings(): Promise<readonly Binding[]> {
  const page = await workspace.openTextDocument(Uri.parse('vscode://defaultsettings/keybindings.json'));
  const rows = [...page.getText().matchAll(/^\{.*?\}(?=,?$)/gms)].map(([row]) => JSON.parse(row) as Binding);
  assert.ok(rows.length > 300, `Only ${rows.length} keys were read.`);
  assert.ok(rows.some(({ key }) => key === 'ctrl+k ctrl+s'));
  return rows;
}

describe('what the extension adds to the editor', () => {
  let manifest: { contributes: { keybindings: Binding[]; commands: { command: string }[] } };
  let words: Record<string, string>;
  before(async () => {
    await started();
    const read = <T>(name: string): T => JSON.parse(readFileSync(join(extensionFolder(), name), 'utf8')) as T;
    manifest = read('package.json');
    words = read('package.nls.json');
  });

  it('has every command that it names, also in the walkthrough', async () => {
    const known = new Set(await commands.getCommands(true));
    const linked = [...JSON.stringify(words).matchAll(/\(command:([\w.]+)\)/g)].map(([, id = '']) => id);
    assert.ok(linked.length >= 6);
    for (const id of [...linked, ...manifest.contributes.commands.map(({ command }) => command)])
      assert.ok(known.has(id), `No command ${id}.`);
  });

  it('takes no key that the editor uses in a text', async () => {
    const own = manifest.contributes.keybindings;
    const rows = (await defaultBindings()).filter(({ command }) => !command.startsWith('routewright.'));
    for (const { key, command, when } of own) {
      assert.match(when ?? '', /resourceLangId == routewright/, command);
      const [first = ''] = key.split(' ');
      const taken = rows.filter(
        // A key for files of another language does not apply to ours, and a disabled one applies nowhere.
        (row) =>
          (row.key === key || row.key === first) &&
          !/^false$|(?:editorLangId|resourceLangId) (?:==|=~ (?!.*routewright))/.test(row.when ?? ''),
      );
      assert.deepEqual(taken, [], `${command} on ${key}`);
    }
  });
});
