import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CodeActionTriggerKind, type CodeAction, type TextDocumentEdit } from 'vscode-languageserver';
import { beforeAll, describe, expect, it } from 'vitest';
import { codeActionProvider } from '../../../../server/src/lsp/actions/codeActions.ts';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { swapHandler } from '../../../../server/src/lsp/requests/setState.ts';
import { tonightHandler } from '../../../../server/src/lsp/requests/tonight.ts';
import type { TonightResult } from '../../../../server/src/protocol/messages/tonight.ts';
import { isRefusal } from '../../../../server/src/protocol/refusal.ts';
import { neverStopped, edited, harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';

const samples = join(import.meta.dirname, '../../../../samples');
const sample = Object.fromEntries(
  readdirSync(samples)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => [name, readFileSync(join(samples, name), 'utf8')]),
);
const weekName = 'lanternfall.week.yaml';
const uri = uriOf(weekName);
const open = (files: Readonly<Record<string, string>>): Promise<Editor> =>
  openEditor(files, { today: '2026-11-16T18:00', open: Object.keys(files) });

function tonight(editor: Editor): Exclude<TonightResult, { readonly message: string }> {
  const found = runToCompletion(tonightHandler(editor.services)({ uri }));
  if (isRefusal(found)) throw new Error(found.message);
  return found;
}

/** The actions on the first character of a file that swap techniques. */
async function swapsOf(
  editor: Editor,
  name: string,
  triggerKind: CodeActionTriggerKind,
): Promise<CodeAction[]> {
  const start = { line: 0, character: 0 };
  const actions = await codeActionProvider(editor.services)(
    {
      textDocument: { uri: uriOf(name) },
      range: { start, end: start },
      context: { diagnostics: [], triggerKind },
    },
    neverStopped,
  );
  return actions.filter(({ title }) => title.startsWith('Swap '));
}

describe('a swap on offer', () => {
  let editor: Editor;
  beforeAll(async () => {
    editor = await open(sample);
  });

  it('is an action of the week file, made by one edit', async () => {
    // An editor that asks at each move of the cursor makes no plan; a person who asks has it made.
    expect(await swapsOf(editor, weekName, CodeActionTriggerKind.Automatic)).toEqual([]);
    const asked = await swapsOf(editor, weekName, CodeActionTriggerKind.Invoked);
    const { words, report } = tonight(editor);
    expect(words.swaps.length).toBeGreaterThan(0);
    expect(asked.map(({ title }) => title)).toEqual(words.swaps.map(({ title }) => title));
    expect(await swapsOf(editor, weekName, CodeActionTriggerKind.Automatic)).toEqual(asked);
    expect(await swapsOf(editor, 'lanternfall.route.yaml', CodeActionTriggerKind.Invoked)).toEqual([]);

    const changes = asked[0]!.edit!.documentChanges as TextDocumentEdit[];
    expect(changes).toHaveLength(1);
    expect(changes[0]!.textDocument).toEqual({ uri, version: 1 });
    const { technique, instead } = report.swaps[0]!;
    const after = edited(editor.text(weekName), changes[0]!.edits as Parameters<typeof edited>[1]);
    expect(after).toMatch(new RegExp(`^ +${technique}: unlearned`, 'm'));
    expect(after).toMatch(new RegExp(`^ +${instead}: learning$`, 'm'));
    // Comments and all other lines stay.
    const kept = editor
      .text(weekName)
      .split('\n')
      .filter((line) => !line.includes(technique));
    expect(after.split('\n')).toEqual(expect.arrayContaining(kept));

    const later = tonight(await open({ ...sample, [weekName]: after }));
    const standing = new Map(later.report.standings.map((one) => [one.technique, one.standing]));
    expect([standing.get(technique), standing.get(instead)]).toEqual(['aside', 'learning']);
    expect(later.report.swaps.map((one) => one.instead)).not.toContain(instead);
  });

  it('is the same edit by the request that the panel sends', async () => {
    const { technique, instead } = tonight(editor).words.swaps[0]!;
    const [action] = await swapsOf(editor, weekName, CodeActionTriggerKind.Invoked);
    const { edit, message } = await swapHandler(editor.services)({ uri, technique, instead });
    const [{ edits }] = action!.edit!.documentChanges as [TextDocumentEdit];
    expect(edit!.changes).toEqual(edits);
    expect(message).toBe('Oil slick is put aside and Blind line is taken up in lanternfall.week.yaml.');
  });
});

describe('the edit of a swap', () => {
  const params = { uri: uriOf('a.route.yaml'), technique: 'crate-vault', instead: 'lamp-hop' };
  async function made(week: string | undefined) {
    const editor = await openEditor({
      'a.route.yaml': harborRoute,
      ...(week !== undefined && { 'a.week.yaml': week }),
    });
    const { edit, message } = await swapHandler(editor.services)(params);
    return { message, edit, text: edit && edited(week ?? '', [...edit.changes]) };
  }
  const head = 'route: a.route.yaml\n';

  it.each([
    ['without states', 'block: 25\n', 'block: 25\nstates:\n  crate-vault: unlearned\n  lamp-hop: learning\n'],
    [
      'with one of the two, in order',
      'states:\n  crate-vault: learning # since May\nblock: 25\n',
      'states:\n  crate-vault: unlearned # since May\n  lamp-hop: learning\nblock: 25\n',
    ],
    [
      'with both, and one under a former id',
      'states: { lamp-hop: unlearned, box-jump: learning }\n',
      'states: { lamp-hop: learning, box-jump: unlearned }\n',
    ],
  ])('fits into a week file %s', async (_, before, after) => {
    const { text, edit } = await made(head + before);
    expect(text).toBe(head + after);
    expect(edit!.changes).toHaveLength(1);
  });

  it('makes a week file where there is none', async () => {
    const { edit, text } = await made(undefined);
    expect(edit!.create).toBe(true);
    expect(text).toBe(`${head}states:\n  crate-vault: unlearned\n  lamp-hop: learning\n`);
  });

  it('says what to write by hand, or that it is done', async () => {
    expect(await made(`${head}states: [crate-vault\n`)).toMatchObject({
      edit: undefined,
      message: expect.stringContaining(
        'Set crate-vault: unlearned and lamp-hop: learning under states: by hand.',
      ) as string,
    });
    expect((await made(`${head}states: { crate-vault: unlearned, lamp-hop: learning }\n`)).message).toBe(
      'Crate vault is put aside and lamp-hop is taken up in a.week.yaml already.',
    );
  });
});
