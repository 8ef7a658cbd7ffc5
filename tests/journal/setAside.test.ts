import { appendFileSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Desk } from '../helpers/desk.ts';

/** A desk with one landed attempt in the journal, and the folder of that journal. */
async function logged(): Promise<{ desk: Desk; folder: string; file: string }> {
  const desk = new Desk();
  await desk.log('crate-vault', '--landed');
  const journals = join(desk.state, 'routewright', 'journal');
  const folder = join(journals, readdirSync(journals)[0]!);
  const name = readdirSync(folder).find((one) => one.endsWith('.open.jsonl') && !one.startsWith('folds'))!;
  return { desk, folder, file: join(folder, name) };
}

const block = { id: 'l-1', at: 1_790_000_000_000, block: 'b-x', technique: 'wall-kick' };

test.each([
  ['torn', '{"kind":"attempt","id":"x","at":17'],
  ['none of ours', '{"kind":"song"}'],
  [
    'with a moment that would break the file',
    JSON.stringify({ kind: 'attempt', landed: true, ...block, local: '"2026: [' }),
  ],
])('a line that is %s goes into a file beside, is said, and is in nobody’s way', async (_, line) => {
  const { desk, folder, file } = await logged();
  appendFileSync(file, `\n${line}\n`);
  const said = await desk.log('--end');
  expect(said.code).toBe(0);
  expect(desk.text()).toMatch(/crate-vault, minutes: 0.1, tape: l /);
  expect(said.out).toContain(
    `Set aside from the journal: 1 line that could not be read, now in ${join(folder, 'set-aside.txt')}.`,
  );
  expect(readFileSync(join(folder, 'set-aside.txt'), 'utf8')).toBe(`${line}\n`);
  expect(readdirSync(folder).filter((name) => name.endsWith('.jsonl'))).toEqual(['folds.open.jsonl']);
  // Said once.
  expect((await desk.log('.')).out).toBe('Nothing waits in the journal.\n');
});

test('an entry that cannot be written so that it is read again waits, is said, and is in nobody’s way', async () => {
  const { desk, folder, file } = await logged();
  const entry = { kind: 'entry', id: 'b-y', at: 1_790_000_000_000, local: '2026-10-05T18:00' };
  appendFileSync(
    file,
    `\n${JSON.stringify({ ...entry, entry: { id: 'b-other', technique: 'wall-kick' } })}\n`,
  );
  const said = await desk.log('--end');
  expect(desk.text()).toMatch(/crate-vault, minutes: 0.1, tape: l /);
  expect(desk.text()).not.toContain('b-other');
  expect(said.out).toContain(
    `1 entry cannot be written into lanternfall.practice.yaml so that it can be read again: the rest went in. What is left is in ${folder}.`,
  );
  const lines = readdirSync(folder).filter((name) => name.endsWith('.jsonl'));
  expect(lines.map((name) => readFileSync(join(folder, name), 'utf8')).join('')).toContain('b-other');
});
