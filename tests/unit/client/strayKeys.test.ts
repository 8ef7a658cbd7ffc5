import { beforeEach, expect, test, vi } from 'vitest';
import { defaultBindings } from '../../../server/src/protocol/practice/bindings.ts';
import * as editor from './fakeEditor.ts';

vi.mock('vscode', () => editor);
const { StrayKeys } = await import('../../../client/src/practice/strayKeys.ts');

const document = { uri: editor.Uri.file('/w/a.route.yaml') };
let type: (text: string, over?: object) => void;
let running: boolean;
let back: number;
let now: number;

function watch() {
  vi.spyOn(editor.workspace, 'onDidChangeTextDocument').mockImplementation(((
    tell: (event: object) => void,
  ) => {
    type = (text, over = {}) =>
      tell({ document, contentChanges: [{ text, rangeLength: 0 }], reason: undefined, ...over });
    return { dispose: () => undefined };
  }) as never);
  return new StrayKeys(
    () => (running ? { name: 'Lamp hop', bindings: defaultBindings } : undefined),
    () => void (back += 1),
  );
}

/** Milliseconds pass. */
function wait(ms: number): void {
  now += ms;
}

const said = (): string[] => editor.shown.map(({ text }) => text);

beforeEach(() => {
  running = true;
  back = 0;
  now = 1_000_000;
  vi.spyOn(Date, 'now').mockImplementation(() => now);
  editor.shown.length = 0;
  editor.person.press = (_message, buttons) => buttons[0];
  editor.window.activeTextEditor = { document };
});

test('a letter of the block that went into a file is told, with the way back', async () => {
  watch();
  type('l');
  await vi.waitFor(() => expect(back).toBe(1));
  expect(said()).toEqual([
    '“l” went into a.route.yaml: the block of Lamp hop runs, but its keys do not reach it.',
  ]);
});

test('it is told once until the keys reach the block again', () => {
  const stray = watch();
  type('M');
  wait(5000);
  type('l');
  expect(said()).toHaveLength(1);
  stray.heard();
  wait(5000);
  type('e');
  expect(said()).toHaveLength(2);
});

test('nothing is told of words, of other letters, of other changes, or without a block', () => {
  watch();
  type('n');
  type('e');
  wait(5000);
  type('x');
  wait(5000);
  type('lm');
  type('l', { reason: 1 });
  type('l', { contentChanges: [{ text: 'l', rangeLength: 2 }] });
  type('l', { document: { uri: editor.Uri.file('/w/b.route.yaml') } });
  running = false;
  type('l');
  expect(said()).toEqual([]);
});
