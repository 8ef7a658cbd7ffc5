import { beforeEach, describe, expect, it, vi } from 'vitest';
import * as editor from './fakeEditor.ts';

vi.mock('vscode', () => editor);
const { fileColumn, pageColumn } = await import('../../../client/src/editor/columns.ts');

const beside = editor.ViewColumn.Beside;
const uri = (name: string) => editor.Uri.file(`/folder/${name}.route.yaml`);
const text = (name: string) => ({ input: { uri: uri(name) } });
const panel = { input: { viewType: 'mainThreadWebview-routewright.week' } };
const foreign = { input: { viewType: 'mainThreadWebview-markdown.preview' } };
/** A page that says nothing about itself, such as a walkthrough. */
const unknown = { input: undefined };

/** @param active the number of the active column, from 1 */
function columns(active: number, ...tabs: editor.Column['tabs'][]): void {
  const all = tabs.map((some, index) => ({ viewColumn: index + 1, tabs: some }));
  editor.window.tabGroups = { all, activeTabGroup: all[active - 1]! };
}

beforeEach(() => columns(1, []));

describe('the column of a page', () => {
  it.each([
    ['the only column has nothing', 1, [[]], 1],
    ['only the text is open', 1, [[text('a')]], beside],
    ['only a page that is not ours is open', 1, [[unknown]], beside],
    ['the panel is beside the text, which is active', 1, [[text('a')], [panel]], 2],
    ['the panel is beside the text and is active', 2, [[text('a')], [panel]], 2],
    ['the panel is left of the text', 2, [[panel], [text('a')]], 1],
    ['all is in one column', 1, [[text('a'), panel]], 1],
    ['two texts are open, the left one active', 1, [[text('a')], [text('b')]], 2],
    ['two texts are open, the right one active', 2, [[text('a')], [text('b')]], 1],
    ['a page that is not ours is beside the text', 1, [[text('a')], [foreign]], 2],
    ['there are three, the panel in the last', 1, [[text('a')], [text('b')], [panel]], 3],
  ])('where %s', (_, active, tabs, expected) => {
    columns(active, ...tabs);
    expect(pageColumn()).toBe(expected);
  });
});

describe('the column of a file', () => {
  it.each([
    ['nothing is open', 1, [[]], 1],
    ['it is open beside the panel', 2, [[text('a')], [panel]], 1],
    ['it is open behind the panel', 2, [[text('b')], [text('a'), panel]], 1],
    ['it is open behind the panel, and there is no other column', 1, [[text('a'), panel]], 1],
    ['it is open behind one page of two', 1, [[panel], [text('a'), panel]], 2],
    ['it is open twice', 2, [[text('a')], [text('a')]], 2],
    ['another file is beside the panel, which is active', 2, [[text('b')], [panel]], 1],
    ['the panel is on the left and active', 1, [[panel], [text('b')]], 2],
    ['two other files are open, the right one active', 2, [[text('b')], [text('c')]], 2],
    ['the panel is alone', 1, [[panel]], beside],
    ['all is in one column', 1, [[text('b'), panel]], 1],
  ])('where %s', (_, active, tabs, expected) => {
    columns(active, ...tabs);
    expect(fileColumn(uri('a'))).toBe(expected);
  });
});
