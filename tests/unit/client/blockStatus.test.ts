import { expect, test, vi } from 'vitest';
import { blockWords } from '../../../client/src/practice/blockStatus.ts';
import { defaultBindings, practiceVersion } from '../../../server/src/protocol/practice/bindings.ts';
import type { PracticeData } from '../../../server/src/protocol/practice/blockView.ts';

vi.mock('vscode', () => import('./fakeEditor.ts'));

const now = 1_000_000;
const data: PracticeData = {
  version: practiceVersion,
  phase: 'block',
  route: 'Lanternfall',
  name: 'Crate vault',
  from: 'dock save',
  cycle: 12,
  now,
  began: now,
  ends: now + 751_000,
  restEnds: null,
  pausedAt: null,
  usual: '41 %',
  standing: 'being learned',
  after: null,
  notes: '',
  links: [],
  timeUp: false,
  sound: false,
  large: false,
  unsaved: false,
  attempts: [],
  said: '',
  promise: '',
  caution: null,
  slow: null,
  next: null,
  planning: false,
  bindings: defaultBindings,
};
const attempts = [true, false, true].map((landed) => ({ at: now, landed }));

test.each<[string, Partial<PracticeData>, number]>([
  ['Crate vault 12:31', {}, 0],
  ['Crate vault 10:00, 2 of 3 landed', { attempts }, 151_000],
  ['Crate vault 0:00, 2 of 3 landed', { attempts }, 900_000],
  ['Crate vault: time is up, 2 of 3 landed', { attempts, phase: 'up' }, 760_000],
  ['Crate vault: how many landed?', { phase: 'count' }, 760_000],
  ['Crate vault: get ready', { phase: 'ready' }, 0],
  ['Crate vault: paused, 2 of 3 landed', { attempts, phase: 'paused' }, 151_000],
  ['Rest 4:59', { phase: 'rest', restEnds: now + 300_000 }, 1500],
  ['The rest is over', { phase: 'rested', restEnds: now + 300_000 }, 400_000],
])('a block is told in the status bar as “%s”', (words, more, later) => {
  expect(blockWords({ ...data, ...more }, now + later)).toBe(words);
});
