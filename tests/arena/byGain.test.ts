/** Handing out a session's blocks by gain: nobody has more than an hour, and what was begun is not left for longer than asked. */
import { expect, test } from 'vitest';
import { ModelCache } from '../../server/src/model/index.ts';
import { byGain } from './policies/byGain.ts';
import type { Session } from './policies/byGain.ts';
import type { View } from './policies/policy.ts';
import { rankingOf } from './policies/tool.ts';
import { createRunner } from './simulate.ts';
import { kinds } from './truth/kinds.ts';

const blocks = 3;

/** A session of three blocks for four members, in the order of the ranking and all begun, before anything is logged. */
function sessionOfThree(): Session {
  const { world } = createRunner(kinds['own']!, 5, 0, 10);
  const begun = { blocks: [{ landed: 1, tries: 20 }], runs: [], inRun: false, lastDay: 0 };
  const view: View = {
    day: 0,
    blocks,
    logs: { practice: [], runs: [] },
    tallies: world.skills.map((_, i) => ({ ...begun, lastDay: i })),
  };
  const { input, order, rows } = rankingOf(world, view, new ModelCache());
  const ids = world.skills.map(({ id }) => id);
  const open = rows.filter((row) => row.open).map(({ technique }) => ids.indexOf(technique));
  return { world, view, input, order, present: open.slice(0, 4) };
}

test('the best has the first block, and nobody more than an hour', () => {
  const session = sessionOfThree();
  const today = byGain(Infinity)(session);
  expect(today).toHaveLength(blocks);
  expect(today[0]).toBe(session.present[0]);
  for (const skill of session.present) {
    const minutes = today.filter((other) => other === skill).length * session.world.blockMinutes;
    expect(minutes).toBeLessThanOrEqual(60);
  }
  // Alone, a technique has its hour and no more, though blocks remain.
  const alone = byGain(Infinity)({ ...session, present: session.present.slice(0, 1) });
  expect(alone).toHaveLength(Math.min(blocks, Math.floor(60 / session.world.blockMinutes)));
});

test('what was begun waits for no more sessions than asked', () => {
  const session = sessionOfThree();
  for (const most of [1, 2]) {
    const handOut = byGain(most);
    const sessions = Array.from({ length: most + 1 }, () => handOut(session));
    const passedOver = session.present.filter((skill) => !sessions[0]!.includes(skill));
    expect(passedOver.length).toBeGreaterThan(0);
    // Until then the answer is that of the gain alone.
    for (const blocksThen of sessions.slice(0, most)) expect(blocksThen).toEqual(sessions[0]);
    for (const skill of passedOver) expect(sessions[most]).toContain(skill);
  }
  const forEver = byGain(Infinity);
  const first = forEver(session);
  for (let later = 0; later < 5; later++) expect(forEver(session)).toEqual(first);
});
