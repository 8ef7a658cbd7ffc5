import assert from 'node:assert/strict';
import { after, before, describe, it } from 'mocha';
import { commands, DiagnosticSeverity, languages, workspace, WorkspaceEdit } from 'vscode';
import { diagnosticsAt, fileUri, rangeOf, show, started } from '../support/editor.ts';
import { unmarked } from '../support/marked.ts';
import { PLANTED, PLANTED_FOLDER, PLANTED_NAMES, type PlantedFile } from '../support/planted.ts';

const uriOf = (name: PlantedFile) => fileUri(PLANTED_FOLDER, name);
const marksOf = (name: PlantedFile) => unmarked(PLANTED[name]).marks;

describe('what is wrong in the files', () => {
  before(started);
  after(async () => {
    await commands.executeCommand('workbench.action.files.revert');
    await commands.executeCommand('workbench.action.closeAllEditors');
  });

  for (const name of PLANTED_NAMES) {
    it(`is found in ${name} at its exact places, without opening it`, async () => {
      const found = await diagnosticsAt(uriOf(name), marksOf(name));
      assert.ok(workspace.textDocuments.every(({ uri }) => uri.path !== uriOf(name).path));
      for (const { message, source } of found) {
        assert.equal(source, 'routewright');
        assert.match(message, /[.?]$/);
      }
    });
  }

  it('is an error or a warning, and points to the other places it speaks of', async () => {
    const log = await diagnosticsAt(uriOf('planted.practice.yaml'), marksOf('planted.practice.yaml'));
    assert.deepEqual(
      log.map(({ severity }) => severity),
      [
        DiagnosticSeverity.Error,
        DiagnosticSeverity.Error,
        DiagnosticSeverity.Warning,
        DiagnosticSeverity.Error,
      ],
    );
    const route = await diagnosticsAt(uriOf('circle.route.yaml'), marksOf('circle.route.yaml'));
    const loop = route.find(({ code }) => code === 'needs-cycle');
    assert.match(loop?.message ?? '', /mast-slide → keel-roll → mast-slide/);
    const [other, ...more] = loop?.relatedInformation ?? [];
    assert.deepEqual(more, []);
    const document = await workspace.openTextDocument(uriOf('circle.route.yaml'));
    assert.equal(other?.location.uri.path, document.uri.path);
    assert.deepEqual(other?.location.range, rangeOf(document, 'mast-slide', 'keel-roll: {'));
  });

  it('goes where it is mended, in the open file and in logs that are not open, and comes back with undo', async () => {
    const document = await show(PLANTED_FOLDER, 'planted.route.yaml');
    const marks = marksOf('planted.route.yaml');
    await diagnosticsAt(document.uri, marks);

    const edit = new WorkspaceEdit();
    edit.replace(document.uri, rangeOf(document, '12', 'difficulty:'), '9');
    assert.ok(await workspace.applyEdit(edit));
    await diagnosticsAt(
      document.uri,
      marks.filter(({ code }) => code !== 'difficulty-out-of-scale'),
    );
    await commands.executeCommand('undo');
    await diagnosticsAt(document.uri, marks);

    // A wrong name in a log becomes correct when the route uses it too.
    const renaming = new WorkspaceEdit();
    renaming.replace(document.uri, rangeOf(document, 'cove', 'id: cove'), 'coev');
    assert.ok(await workspace.applyEdit(renaming));
    const inRuns = marksOf('planted.runs.yaml');
    await diagnosticsAt(
      uriOf('planted.runs.yaml'),
      inRuns.filter(({ code }) => code !== 'unknown-segment'),
    );
    await commands.executeCommand('undo');
    await diagnosticsAt(uriOf('planted.runs.yaml'), inRuns);
  });

  it('follows what another program writes, and goes with a file that is deleted', async () => {
    const name = 'planted.week.yaml';
    const mended = unmarked(PLANTED[name])
      .text.replace('tues', 'tue')
      .replace('leave_out: [keel-roll]\n', '');
    await workspace.fs.writeFile(uriOf(name), new TextEncoder().encode(mended));
    await diagnosticsAt(uriOf(name), []);
    await workspace.fs.writeFile(uriOf(name), new TextEncoder().encode(unmarked(PLANTED[name]).text));
    await diagnosticsAt(uriOf(name), marksOf(name));
    await workspace.fs.delete(uriOf(name));
    await diagnosticsAt(uriOf(name), []);
  });

  it('is nothing in the sample but the slip that it holds, a warning at the technique', async () => {
    const sample = await workspace.findFiles('lanternfall.*.yaml');
    assert.equal(sample.length, 4);
    const route = fileUri('lanternfall.route.yaml');
    const { start, end } = rangeOf(await workspace.openTextDocument(route), 'net-climb', '\ntechniques:');
    const place = {
      start: [start.line, start.character],
      end: [end.line, end.character],
    } as const;
    const [slip] = await diagnosticsAt(route, [{ code: 'lands-too-rarely', ...place }]);
    assert.equal(slip?.severity, DiagnosticSeverity.Warning);
    assert.match(slip.message, /^“net-climb” is to be worked on again\. It landed 0 of 6 in /);
    for (const uri of sample.filter(({ path }) => path !== route.path))
      assert.deepEqual(languages.getDiagnostics(uri), [], uri.path);
  });
});
