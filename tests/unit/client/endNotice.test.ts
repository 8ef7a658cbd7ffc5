import { beforeEach, expect, test, vi } from 'vitest';
import type { RunningBlock } from '../../../client/src/practice/runningBlock.ts';
import * as editor from './fakeEditor.ts';

vi.mock('vscode', () => editor);
const { EndNotice } = await import('../../../client/src/practice/endNotice.ts');

const block: RunningBlock = {
  version: 1,
  phase: 'up',
  uri: 'file:///w/a.practice.yaml',
  route: 'Lanternfall, any%',
  technique: 'lamp-hop',
  name: 'Lamp hop',
  from: '',
  cycle: 5,
  block: 'b-1',
  began: 1_000_000,
  ends: 2_500_000,
  restEnds: null,
  before: 0,
  promise: '',
  caution: null,
  slowSaid: false,
  timeUp: true,
};

let wanted: boolean;
let done: string[];
const notice = () =>
  new EndNotice({
    show: () => void done.push('show'),
    save: ({ block: id }) => Promise.resolve(void done.push(`save ${id}`)),
  });
const messages = (): string[] => editor.shown.map(({ text }) => text);

beforeEach(() => {
  wanted = true;
  done = [];
  editor.shown.length = 0;
  vi.spyOn(editor.workspace, 'getConfiguration').mockReturnValue({
    get: (key: string) => (key === 'noticeAtEnd' ? wanted : undefined),
  });
});

test('says once that the time of a hidden block is up, with what landed, and saves it by its button', async () => {
  const offered: (readonly string[])[] = [];
  editor.person.press = (_message, buttons) => {
    offered.push(buttons);
    return buttons[0];
  };
  const told = notice();
  await told.tell(block, 3, 5, false);
  await told.tell(block, 3, 5, false);
  expect(messages()).toEqual(['Time is up: Lamp hop, 3 of 5 landed.']);
  expect(offered).toEqual([['Save', 'Show It']]);
  expect(done).toEqual(['save b-1']);
  // Minutes were added, and are over again.
  await told.tell({ ...block, ends: block.ends + 300_000 }, 4, 7, false);
  expect(messages()).toHaveLength(2);
});

test('only leads back to the view where the counts are still to be asked for', async () => {
  editor.person.press = (_message, buttons) => buttons[0];
  await notice().tell({ ...block, phase: 'count' }, 0, 0, false);
  expect(messages()).toEqual(['Time is up: Lamp hop. How many landed was not counted by key.']);
  expect(done).toEqual(['show']);
});

test('says nothing unless it is switched on, nor while the view is to be seen, nor of a block that was ended by hand', async () => {
  await notice().tell(block, 3, 5, true);
  await notice().tell({ ...block, phase: 'count', timeUp: false }, 0, 0, false);
  await notice().tell({ ...block, phase: 'block', timeUp: false }, 3, 5, false);
  wanted = false;
  await notice().tell(block, 3, 5, false);
  expect(messages()).toEqual([]);
});

test('does nothing where the message is closed', async () => {
  editor.person.press = () => undefined;
  await notice().tell(block, 3, 5, false);
  expect(done).toEqual([]);
});
