import { ResponseError, type Range, type TextDocumentEdit, type WorkspaceEdit } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { prepareRenameProvider, renameProvider } from '../../../../server/src/lsp/editing/rename.ts';
import { edited, harborRoute, openEditor, textIn, uriOf } from '../editor.ts';

const files = {
  'a.runs.yaml': `route: a.route.yaml
runs:
  - start: 2026-10-05T19:30
    times: { harbor: 91.5 }
    tried: { lamp-clip@second: [0, 1], "lamp-hop": [1, 1], box-jump: [1, 1] }
    ended: { at: rope-yard, why: miss, by: lamp-hop } # not lamp-hop's fault
`,
  'a.practice.yaml':
    'route: a.route.yaml\nsessions:\n  - start: 2026-10-05T18:00\n    blocks: [{ technique: lamp-hop, minutes: 20 }]\n',
  'a.week.yaml':
    "route: a.route.yaml\npin: [lamp-hop]\nstates:\n  'lamp-hop': learning\ntimes: { harbor: { time: 88 } }\n",
};

/** What a rename leads to: the files that changed, or the sentence that refuses it. */
async function renamed(
  from: string,
  to: string,
  others: Record<string, string> = files,
  options: { readonly annotations?: boolean; readonly leaveOut?: boolean } = {},
): Promise<Record<string, string> | string | null> {
  const editor = await openEditor({
    'a.route.yaml': harborRoute.replace(from.replace('‸', ''), from),
    ...others,
  });
  Object.assign(editor.client, { annotations: options.annotations ?? false });
  const answer = await renameProvider(editor.services)({ ...editor.params, newName: to });
  if (answer === null) return null;
  if (answer instanceof ResponseError) return answer.message;
  return Object.fromEntries(
    textEdits(answer).map(({ textDocument, edits }) => {
      const name = textDocument.uri.slice(uriOf('').length);
      // An edit with a label may be left out by whoever looks at them first.
      const taken = edits.filter((edit) => !(options.leaveOut && 'annotationId' in edit));
      return [name, edited(editor.text(name), taken as { range: Range; newText: string }[])];
    }),
  );
}

function textEdits({ documentChanges = [] }: WorkspaceEdit): TextDocumentEdit[] {
  return documentChanges.filter((change) => 'edits' in change);
}

describe('rename', () => {
  it('renames a technique in the route, in logs and in the week, in quotes or not', async () => {
    const all = (await renamed('needs: [lamp‸-hop]', 'wall-hop')) as Record<string, string>;
    const swapped = (text: string) => text.replaceAll('lamp-hop', 'wall-hop');
    expect(all).toEqual({
      'a.route.yaml': swapped(harborRoute).replace(
        'wall-hop: { difficulty: 2, saves: 1.5, loses: 1 }',
        'wall-hop: { difficulty: 2, saves: 1.5, loses: 1, was: [lamp-hop] }',
      ),
      'a.practice.yaml': swapped(files['a.practice.yaml']),
      'a.runs.yaml': swapped(files['a.runs.yaml']).replace("wall-hop's fault", "lamp-hop's fault"),
      'a.week.yaml': swapped(files['a.week.yaml']),
    });
  });

  it('keeps the former id in the list that is there, or in a new one behind `needs`', async () => {
    const listed = (await renamed('- cra‸te-vault', 'box-vault')) as Record<string, string>;
    expect(listed['a.route.yaml']).toContain(
      'box-vault: { name: Crate vault, difficulty: 3, saves: 3, loses: 1, was: [box-jump, crate-vault] }',
    );
    const below = (await renamed('use: lamp‸-clip', 'gate-clip')) as Record<string, string>;
    expect(below['a.route.yaml']).toContain('    needs: [lamp-hop]\n    was: [lamp-clip]\n  lamp-hop:');
  });

  it('goes back to an id that the technique had, and keeps the other one', async () => {
    const back = (await renamed('- cra‸te-vault', 'box-jump')) as Record<string, string>;
    expect(back['a.route.yaml']).toContain(
      'box-jump: { name: Crate vault, difficulty: 3, saves: 3, loses: 1, was: [crate-vault] }',
    );
    // Logs of that time say so already.
    expect(back).not.toHaveProperty(['a.runs.yaml']);
  });

  it('labels what keeps old logs valid, so that it can be left out', async () => {
    const options = { annotations: true, leaveOut: true };
    const after = (await renamed('needs: [lamp‸-hop]', 'wall-hop', files, options)) as Record<string, string>;
    expect(after['a.route.yaml']).toBe(harborRoute.replaceAll('lamp-hop', 'wall-hop'));
  });

  it('renames segments, uses and spots where they are spoken of', async () => {
    expect(await renamed('id: har‸bor', 'quay')).toEqual({
      'a.route.yaml': harborRoute.replace('id: harbor', 'id: quay'),
      'a.runs.yaml': files['a.runs.yaml'].replace('harbor', 'quay'),
      'a.week.yaml': files['a.week.yaml'].replace('harbor', 'quay'),
    });
    expect(await renamed('id: sec‸ond', 'again')).toEqual({
      'a.route.yaml': harborRoute.replace('id: second', 'id: again'),
      'a.runs.yaml': files['a.runs.yaml'].replace('@second', '@again'),
    });
    expect(await renamed('spot: ga‸te', 'arch')).toEqual({
      'a.route.yaml': harborRoute.replace('spot: gate', 'spot: arch'),
    });
  });

  it('renames an item where it is taken and where it is needed', async () => {
    const route = harborRoute
      .replace('- crate-vault', '- { use: crate-vault, take: o‸il }')
      .replace('techniques: [lamp-hop]', 'techniques: [{ use: lamp-hop, with: oil }]');
    const editor = await openEditor({ 'a.route.yaml': route });
    const answer = (await renameProvider(editor.services)({
      ...editor.params,
      newName: 'rope',
    })) as WorkspaceEdit;
    const after = edited(editor.text('a.route.yaml'), textEdits(answer)[0]!.edits as never);
    expect(after).toBe(
      editor.text('a.route.yaml').replace('take: oil', 'take: rope').replace('with: oil', 'with: rope'),
    );
  });

  it('counts emoji before a name as two units, as the protocol does', async () => {
    const runs = files['a.runs.yaml'].replace('lamp-clip@second', '"🏮🏮": [1, 1], lamp-clip@second');
    const after = (await renamed('needs: [lamp‸-hop]', 'wall-hop', { 'a.runs.yaml': runs })) as Record<
      string,
      string
    >;
    expect(after['a.runs.yaml']).toContain(
      'tried: { "🏮🏮": [1, 1], lamp-clip@second: [0, 1], "wall-hop": [1, 1]',
    );
  });

  it('reads files that are not open again before it renames', async () => {
    const texts: Record<string, string> = {
      'a.route.yaml': harborRoute.replace('needs: [lamp-hop]', 'needs: [lamp‸-hop]'),
      ...files,
    };
    const editor = await openEditor(texts);
    // Another program writes the log, and no word of it has come yet.
    const later = files['a.practice.yaml'].replace('sessions:', '# a line more\nsessions:');
    editor.write('a.practice.yaml', later);
    const answer = (await renameProvider(editor.services)({
      ...editor.params,
      newName: 'wall-hop',
    })) as WorkspaceEdit;
    const change = textEdits(answer).find(({ textDocument }) =>
      textDocument.uri.endsWith('a.practice.yaml'),
    )!;
    expect(edited(later, change.edits as never)).toBe(later.replace('lamp-hop', 'wall-hop'));
    expect(change.textDocument.version).toBeNull();
  });
});

describe('rename refuses', () => {
  it('what is no id, with what an id looks like', async () => {
    for (const name of ['Wall hop', '1e3', 'wall_hop', '', '-hop', 'läufer'])
      expect(await renamed('- cra‸te-vault', name)).toMatch(/is no id\. An id begins with a small letter/);
  });

  it('an id that is taken, also as a former id of another technique', async () => {
    expect(await renamed('needs: [lamp‸-hop]', 'lamp-clip')).toBe(
      'lamp-clip is taken: there is a technique of that id in a.route.yaml.',
    );
    expect(await renamed('needs: [lamp‸-hop]', 'box-jump')).toBe(
      'box-jump is taken: crate-vault in a.route.yaml was called so, and logs may still speak of it.',
    );
    expect(await renamed('id: har‸bor', 'rope-yard')).toBe(
      'rope-yard is taken: there is a segment of that id in a.route.yaml.',
    );
  });

  it('a word that YAML would read as something else', async () => {
    expect(await renamed('- cra‸te-vault', 'true')).toBe(
      'a.route.yaml is written in a way that no safe edit fits. Rename it there by hand.',
    );
  });

  it('while a file that may speak of it cannot be read', async () => {
    const runs = `${files['a.runs.yaml']}  - start: 2026-10-06\n    tried: { lamp-hop: [1, "\n`;
    expect(await renamed('needs: [lamp‸-hop]', 'wall-hop', { 'a.runs.yaml': runs })).toMatch(
      /^a\.runs\.yaml cannot be read to its end, and line \d+ may speak of lamp-hop\. Mend the file first\.$/,
    );
  });

  it('to rename nothing: the same id again changes no file', async () => {
    expect(await renamed('- cra‸te-vault', 'crate-vault')).toBeNull();
  });
});

describe('before a rename', () => {
  async function prepared(from: string, name = 'a.route.yaml') {
    const texts: Record<string, string> = { 'a.route.yaml': harborRoute, ...files };
    texts[name] = texts[name]!.replace(from.replace('‸', ''), from);
    const editor = await openEditor(texts);
    const answer = prepareRenameProvider(editor.services)(editor.params);
    if (answer === null || answer instanceof ResponseError) return answer?.message ?? null;
    return [textIn(editor.text(name), answer.range), answer.placeholder];
  }

  it('marks the name without quotes and without what stands beside it', async () => {
    expect(await prepared('lamp-‸clip@second', 'a.runs.yaml')).toEqual(['lamp-clip', 'lamp-clip']);
    expect(await prepared('lamp-clip@sec‸ond', 'a.runs.yaml')).toEqual(['second', 'second']);
    expect(await prepared('"lamp-‸hop"', 'a.runs.yaml')).toEqual(['lamp-hop', 'lamp-hop']);
  });

  it('says why a former id or an unknown one cannot be renamed, and is silent elsewhere', async () => {
    expect(await prepared('box-‸jump', 'a.runs.yaml')).toBe(
      'box-jump is a former id of crate-vault. Rename crate-vault where it is defined.',
    );
    expect(await prepared('difficulty: ‸3')).toBeNull();
    expect(await prepared('route: a.r‸oute', 'a.week.yaml')).toBeNull();
  });
});
