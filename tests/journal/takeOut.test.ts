import { describe, expect, test } from 'vitest';
import { readSource } from '../../server/src/files/reading/reading.ts';
import { applyEdits } from '../../server/src/files/edit/textEdit.ts';
import { planFlush, type FlushPlan } from '../../server/src/journal/planFlush.ts';
import type { SealLine } from '../../server/src/journal/journalLines.ts';

/** A block of 20 minutes, as a fold put it into the file, to be taken out again where `gone`. */
function seal(block: string, gone: boolean, local = '2026-10-05T19:30'): SealLine {
  return {
    kind: 'seal',
    id: `line-${block}`,
    at: 0,
    block,
    local,
    entry: { technique: 'crate-vault', minutes: 20 },
    attempts: [],
    undone: gone ? [block] : [],
    ...(gone && { gone: true as const, from: [''] }),
  };
}

const entry = (id: string): string => `{ id: ${id}, technique: crate-vault, minutes: 20 }`;
const lines = (...ids: string[]): string => ids.map((id) => `      - ${entry(id)}\n`).join('');
const session = (start: string, ...ids: string[]): string =>
  `  - start: ${start}\n    blocks:\n${lines(...ids)}`;
const file = (...sessions: string[]): string =>
  sessions.length === 0
    ? 'route: a.route.yaml\nsessions: []\nx-own: 1\n'
    : `route: a.route.yaml\nsessions:\n${sessions.join('')}x-own: 1\n`;
const monday = '2026-10-05T19:30';
const tuesday = '2026-10-06T19:30';

function folded(text: string, ...seals: SealLine[]): FlushPlan {
  const plan = planFlush(readSource('practice', text), seals, 240);
  if ('problem' in plan) throw new Error(plan.problem);
  expect(applyEdits(text, [...plan.edits])).toBe(plan.text);
  return plan;
}

describe('entries that were taken back go out of the file', () => {
  const cases: readonly (readonly [string, string, readonly string[], string])[] = [
    [
      'one of three',
      file(session(monday, 'b-1', 'b-2', 'b-3')),
      ['b-2'],
      file(session(monday, 'b-1', 'b-3')),
    ],
    [
      'the last two',
      file(session(monday, 'b-1', 'b-2', 'b-3')),
      ['b-2', 'b-3'],
      file(session(monday, 'b-1')),
    ],
    [
      'a whole session, which goes too',
      file(session(monday, 'b-1', 'b-2'), session(tuesday, 'b-3')),
      ['b-1', 'b-2'],
      file(session(tuesday, 'b-3')),
    ],
    [
      'all there is',
      file(session(monday, 'b-1', 'b-2'), session(tuesday, 'b-3')),
      ['b-1', 'b-2', 'b-3'],
      file(),
    ],
    [
      'a session with notes, which stays',
      file(`  - start: ${monday}\n    notes: late\n    blocks:\n${lines('b-1', 'b-2')}`),
      ['b-1', 'b-2'],
      file(`  - start: ${monday}\n    notes: late\n    blocks: []\n`),
    ],
    [
      'a session with a comment, which stays',
      file(`  - start: ${monday} # at the arcade\n    blocks:\n${lines('b-1')}`),
      ['b-1'],
      file(`  - start: ${monday} # at the arcade\n    blocks: []\n`),
    ],
    ...[
      [['b-1'], ['b-2', 'b-3']],
      [['b-2'], ['b-1', 'b-3']],
      [['b-2', 'b-3'], ['b-1']],
      [['b-1', 'b-3'], ['b-2']],
    ].map(([gone = [], left = []]) => {
      const inBrackets = (ids: readonly string[]) =>
        file(`  - { start: ${monday}, blocks: [${ids.map(entry).join(', ')}] }\n`);
      return [
        `${gone.join(' and ')} of a list in brackets`,
        inBrackets(['b-1', 'b-2', 'b-3']),
        gone,
        inBrackets(left),
      ] as const;
    }),
  ];
  test.each(cases)('%s', (_, text, gone, wanted) => {
    const plan = folded(text, ...gone.map((id) => seal(id, true)));
    expect(plan.text).toBe(wanted);
    expect([...plan.removed].sort()).toEqual([...gone].sort());
    expect(plan.handEdited).toEqual([]);
  });

  test('while others are added beside them, before them and in their place', () => {
    const text = file(session(monday, 'b-1', 'b-2'));
    const plan = folded(text, seal('b-2', true), seal('b-3', false, '2026-10-05T20:10'));
    expect(plan.text).toBe(file(session(monday, 'b-1', 'b-3')));
    expect(plan).toMatchObject({ added: ['b-3'], removed: ['b-2'] });
    const both = folded(text, seal('b-1', true), seal('b-2', true), seal('b-3', false, tuesday));
    expect(both.text).toBe(file(session(tuesday, 'b-3')));
  });

  test('a comment between them is the user’s: they are left, told, and keep nothing else from going in', () => {
    const text = file(
      `  - start: ${monday}\n    notes: late\n    blocks:\n${lines('b-1')}      # harder tonight\n${lines('b-2')}`,
    );
    const plan = folded(text, seal('b-1', true), seal('b-2', true), seal('b-3', false, tuesday));
    expect(plan).toMatchObject({ removed: [], handEdited: ['b-1', 'b-2'], added: ['b-3'] });
    expect(plan.text).toBe(text.replace('x-own', `${session(tuesday, 'b-3')}x-own`));
  });
});
