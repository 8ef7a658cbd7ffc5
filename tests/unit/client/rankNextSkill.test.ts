import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { RouteChoice } from '../../../client/src/routes/routeChoice.ts';
import { rankRequest } from '../../../server/src/protocol/messages/rank.ts';
import { tonightRequest } from '../../../server/src/protocol/messages/tonight.ts';
import { swapRequest } from '../../../server/src/protocol/messages/week.ts';
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
  of: Readonly<Record<string, string>> = files,
): Promise<Seen> {
  seen = { ...nothingSeen(), choose };
  const editor = await openEditor(of, { today: '2026-11-16' });
  const routes = { chooseWithRunner: () => Promise.resolve(uriOf('a.route.yaml')) } as unknown as RouteChoice;
  await rankNextSkill(
    clientOf(editor, () => seen, fails),
    routes,
  );
  return seen;
}

describe('Rank Next Skill', () => {
  beforeEach(() => void (seen = nothingSeen()));

  it('has what to practise tonight as its first words, above the ranking', async () => {
    const { lists, messages } = await run();
    expect(messages).toEqual([]);
    expect(lists).toHaveLength(1);
    expect(lists[0]!.title).toMatch(/^Tonight, Mon 2026-11-16: .* Below: what to learn next in \S/);
    expect(lists[0]!.rows.map(({ label }) => label)).toContain('Crate vault');
  });

  it('shows the ranking also where tonight could not be worked out, and says so', async () => {
    const whole = (await run()).lists[0]!;
    const { lists, messages } = await run({ [tonightRequest.method]: 'out of order' });
    expect(lists).toHaveLength(1);
    expect(lists[0]!.rows).toEqual(whole.rows);
    expect(lists[0]!.title).toMatch(/^What to learn next in .*, as of 2026-11-16$/);
    expect(messages.map(({ text }) => text)).toEqual([
      'What to practise tonight could not be worked out: out of order',
    ]);
  });

  it('offers to take up what is chosen', async () => {
    const { messages } = await run({}, (rows) => rows.find(({ label }) => label === 'Crate vault'));
    expect(messages).toHaveLength(1);
    expect(messages[0]!.text).toMatch(/^Take up Crate vault\? \S/);
    expect(messages[0]!.buttons).toEqual(['Take Up', 'Start a Block', 'Not Now']);
  });

  it('lists the swaps on offer, and makes the one chosen by an edit', async () => {
    // One place in the set, held for a week by what saves little; the other technique saves ten times as much.
    const of = (name: string, saves: number): string =>
      `  ${name}: { name: The ${name}, difficulty: 5, saves: ${saves}, loses: 1 }\n`;
    const block = (day: number): string =>
      `  - { start: 2026-11-${day}T19:00, blocks: [{ technique: small, minutes: 30, landed: [60, 300] }] }\n`;
    const { lists, requests, messages } = await run(
      {},
      (rows) => rows.find(({ label }) => label === 'Swap The small for The large'),
      {
        'a.route.yaml': `segments:\n  - { id: a, time: 60, techniques: [small] }\n  - { id: b, time: 60, techniques: [large] }\ntechniques:\n${of('small', 0.5)}${of('large', 5)}`,
        'a.practice.yaml': `route: a.route.yaml\nsessions:\n${[10, 11, 12, 13, 14, 15].map(block).join('')}`,
        'a.week.yaml': 'route: a.route.yaml\nblock: 25\ndays: { mon: 25, tue: 25, wed: 25 }\n',
      },
    );
    const labels = lists[0]!.rows.map(({ label }) => label);
    expect(labels).toContain('Swaps to think about');
    expect(requests.at(-1)).toEqual({
      method: swapRequest.method,
      params: { uri: uriOf('a.route.yaml'), technique: 'small', instead: 'large' },
    });
    expect(messages.map(({ text }) => text)).toEqual([
      'The small is put aside and The large is taken up in a.week.yaml.',
    ]);
  });

  it('says that the ranking did not work, and shows no list', async () => {
    const { lists, messages } = await run({ [rankRequest.method]: 'out of order' });
    expect(lists).toEqual([]);
    expect(messages.map(({ text }) => text)).toEqual(['The ranking did not work: out of order']);
  });
});
