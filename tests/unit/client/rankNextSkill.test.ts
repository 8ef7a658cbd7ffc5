import { beforeEach, describe, expect, it, vi } from 'vitest';
import { rankRequest } from '../../../server/src/protocol/messages/rank.ts';
import { tonightRequest } from '../../../server/src/protocol/messages/tonight.ts';
import { harborRoute, openEditor, uriOf } from '../lsp/editor.ts';
import { clientOf, nothingSeen, standInEditor, type Seen } from './standInEditor.ts';

let seen: Seen = nothingSeen();
vi.mock('vscode', () => standInEditor(() => seen, uriOf('a.route.yaml')));
const { rankNextSkill } = await import('../../../client/src/commands/rankNextSkill.ts');

const files = {
  'a.route.yaml': harborRoute,
  'a.week.yaml': 'route: a.route.yaml\ndays: { mon: 60, tue: 60 }\n',
};

async function run(
  fails: Readonly<Record<string, string>> = {},
  choose: NonNullable<Seen['choose']> = () => undefined,
): Promise<Seen> {
  seen = { ...nothingSeen(), choose };
  const editor = await openEditor(files, { today: '2026-11-16' });
  await rankNextSkill(clientOf(editor, () => seen, fails));
  return seen;
}

describe('Rank Next Skill', () => {
  beforeEach(() => void (seen = nothingSeen()));

  it('has what to practise tonight as its first words, above the ranking', async () => {
    const { lists, messages } = await run();
    expect(messages).toEqual([]);
    expect(lists).toHaveLength(1);
    expect(lists[0]!.title).toMatch(/^Tonight, Mon 2026-11-16: .* Next skill to learn: /);
    expect(lists[0]!.rows.map(({ label }) => label)).toContain('Crate vault');
  });

  it('shows the ranking also where tonight could not be worked out, and says so', async () => {
    const whole = (await run()).lists[0]!;
    const { lists, messages } = await run({ [tonightRequest.method]: 'out of order' });
    expect(lists).toHaveLength(1);
    expect(lists[0]!.rows).toEqual(whole.rows);
    expect(lists[0]!.title).toMatch(/^Next skill to learn: /);
    expect(messages.map(({ text }) => text)).toEqual([
      'What to practise tonight could not be worked out: out of order',
    ]);
  });

  it('offers to take up what is chosen', async () => {
    const { messages } = await run({}, (rows) => rows.find(({ label }) => label === 'Crate vault'));
    expect(messages).toHaveLength(1);
    expect(messages[0]!.text).toMatch(/^Take up Crate vault\? \S/);
    expect(messages[0]!.buttons).toEqual(['Take Up', 'Not Now']);
  });

  it('says that the ranking did not work, and shows no list', async () => {
    const { lists, messages } = await run({ [rankRequest.method]: 'out of order' });
    expect(lists).toEqual([]);
    expect(messages.map(({ text }) => text)).toEqual(['The ranking did not work: out of order']);
  });
});
