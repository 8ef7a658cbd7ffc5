import { describe, expect, it } from 'vitest';
import { exampleRoute } from '../../../server/src/rules/engine/exampleFiles.ts';
import { expectMarked, findingsOf, fixed } from './marked.ts';

const route = (segments: string, techniques = '') => ({
  'a.route.yaml': `game: Lanternfall\ncategory: any%\nsegments:\n${segments}techniques:\n  vault: { difficulty: 3, saves: 3.2, loses: 1.4 }\n  hop: { difficulty: 2, saves: 1.8, loses: 0.8 }\n${techniques}`,
});
const harbor = (uses: string, rest = '') => `  - { id: harbor, time: 90${rest}, techniques: [${uses}] }\n`;
const codes = async (...given: Parameters<typeof route>) =>
  (await findingsOf(route(...given))).map(({ code }) => code);

describe('items', () => {
  it('are found where they are taken and never used, and what that costs', async () => {
    const [finding] = await expectMarked(
      route(harbor('{ use: vault, take: ⟦oil⟧, costs: 7 }, hop')),
      'item-never-used',
    );
    expect(finding?.message).toContain('costs 7 s');
    expect(await codes(harbor('{ use: vault, take: oil }, { use: hop, with: oil }'))).toEqual([]);
  });

  it('are found where they are used before they are taken, also within a segment', async () => {
    const code = 'item-taken-too-late';
    const [finding] = await expectMarked(
      route(harbor('{ use: hop, with: ⟦oil⟧ }, { use: vault, take: oil }')),
      code,
    );
    expect(finding?.severity).toBe('error');
    await expectMarked(route(harbor('vault, { use: hop, take: oil, with: ⟦oil⟧ }')), code);
    const again = '{ use: vault, take: oil }, { use: hop, with: oil }, { use: vault, id: b, take: oil }';
    expect(await codes(harbor(again))).toEqual([]);
  });
});

describe('chances and spreads', () => {
  it('of more than half the time are no spread', async () => {
    await expectMarked(route(harbor('vault, hop', ', spread: ⟦45.5⟧')), 'spread-too-large');
    expect(await codes(harbor('vault, hop', ', spread: 45'))).toEqual([]);
    await expectMarked(
      {
        ...route(harbor('vault, hop')),
        'a.week.yaml': 'route: a.route.yaml\ntimes: { harbor: { time: 88, spread: ⟦50⟧ } }\n',
      },
      'spread-too-large',
    );
  });

  it('to get through of less than a half are the other chance', async () => {
    const [finding] = await expectMarked(
      route(harbor('vault, hop', ', survive: ⟦0.03⟧')),
      'survive-unlikely',
    );
    expect(finding?.message).toContain('write 0.97 if 0.03 is the chance to die');
    expect(await codes(harbor('vault, hop', ', survive: 0.5'))).toEqual([]);
  });
});

describe('second chances', () => {
  it('are of no use as the same technique, or as one that saves nothing', async () => {
    await expectMarked(route(harbor('{ use: vault, backup: ⟦vault⟧ }, hop')), 'useless-backup');
    await expectMarked(
      route(
        harbor('{ use: vault, backup: ⟦nod⟧ }, hop, nod, { use: kick }'),
        '  nod: { difficulty: 1, saves: 0 }\n  kick: { difficulty: 3, saves: 2, loses: 1, needs: [nod] }\n',
      ),
      'useless-backup',
    );
    expect(await codes(harbor('{ use: vault, backup: hop }, hop'))).toEqual([]);
  });

  it('never come behind a miss that ends the run, by the technique or by the use', async () => {
    const code = 'unreachable-retry';
    const deadly = '  skip: { difficulty: 8, saves: 18, ends_run: true }\n';
    const files = route(harbor('{ use: skip, ⟦backup⟧: hop }, hop, vault'), deadly);
    await expectMarked(files, code);
    expect((await fixed(files))['a.route.yaml']).toContain('[{ use: skip }, hop, vault]');
    await expectMarked(route(harbor('{ use: vault, ends_run: true, ⟦retry⟧: 2 }, hop')), code);
    expect(await codes(harbor('{ use: skip, loses: 4, backup: hop }, hop, vault'), deadly)).toEqual([]);
  });

  it('have no number without the seconds that each costs', async () => {
    const code = 'max-tries-without-retry';
    const files = route(harbor('{ use: vault, ⟦max_tries⟧: 3 }, hop'));
    await expectMarked(files, code);
    expect((await fixed(files))['a.route.yaml']).toContain('[{ use: vault }, hop]');
  });

  it('are too dear from what landing brings back on', async () => {
    // Landing brings back 3.2 s saved and 1.4 s not lost.
    await expectMarked(route(harbor('{ use: vault, retry: ⟦4.7⟧ }, hop')), 'retry-too-dear');
    expect(await codes(harbor('{ use: vault, retry: 4.5 }, hop'))).toEqual([]);
    const key = '{ use: vault, retry: 9, take: key }, { use: hop, with: key }';
    expect(await codes(harbor(key))).toEqual([]);
  });
});

describe('techniques', () => {
  it('that save nothing are found where they are good for nothing else', async () => {
    const nod = (rest: string) => `  nod: { difficulty: 2, saves: ${rest}, loses: 1 }\n`;
    await expectMarked(route(harbor('vault, hop, nod'), nod('⟦0⟧')), 'saves-nothing');
    expect(await codes(harbor('vault, hop, { use: nod, saves: 2 }'), nod('0'))).toEqual([]);
    expect(await codes(harbor('{ use: nod, take: key }, vault, { use: hop, with: key }'), nod('0'))).toEqual(
      [],
    );
  });

  it('are found where they need what is two steps harder', async () => {
    const kick = (difficulty: number, needed: string) =>
      `  clip: { difficulty: ${difficulty}, saves: 5, loses: 1 }\n  kick: { difficulty: 4, saves: 2, loses: 1, needs: [${needed}] }\n`;
    await expectMarked(route(harbor('vault, hop, clip, kick'), kick(6, '⟦clip⟧')), 'needs-harder');
    expect(await codes(harbor('vault, hop, clip, kick'), kick(5.5, 'clip'))).toEqual([]);
  });

  it('take many hours by their difficulty and cycle', async () => {
    // P: 50 attempts at difficulty 1, 550 at 5 and 9000 at 10 until four in five land, as the scale says of itself.
    const throwing = (difficulty: string, reload: number) =>
      `  throw: { difficulty: ${difficulty}, saves: 21, loses: 12, practice: { attempt: 10, reload: ${reload} } }\n`;
    const uses = harbor('vault, hop, throw');
    const [finding] = await expectMarked(route(uses, throwing('⟦10⟧', 14)), 'many-hours'); // 9000 × 24 s = 60 h
    expect(finding?.message).toContain('30 to 120 hours');
    expect(await codes(uses, throwing('10', 9))).toEqual([]); // 9000 × 19 s = 47.5 h
    expect(await codes(uses, throwing('5', 20))).toEqual([]); // 550 × 30 s = 4.6 h
  });

  it('have former ids that lead to one of them only', async () => {
    const code = 'former-id-in-use';
    const kick = (was: string) => `  kick: { difficulty: 4, saves: 2, loses: 1, was: [${was}] }\n`;
    const taken = route(harbor('vault, hop, kick'), kick('⟦hop⟧'));
    const [finding] = await expectMarked(taken, code);
    expect(finding?.message).toContain('is another technique today');
    expect((await fixed(taken))['a.route.yaml']).toContain('kick: { difficulty: 4, saves: 2, loses: 1 }');
    const twice = `${kick('old-id')}  clip: { difficulty: 4, saves: 2, loses: 1, was: [⟦old-id⟧] }\n`;
    const [other] = await expectMarked(route(harbor('vault, hop, kick, clip'), twice), code);
    expect(other?.message).toContain('`kick` had the id `old-id` too');
    expect(other?.fix).toBeUndefined();
    expect(await codes(harbor('vault, hop, kick'), kick('old-id, older-id'))).toEqual([]);
  });
});

describe('lone-spot', () => {
  const code = 'lone-spot';
  const spots = (...names: string[]) =>
    route(harbor(names.map((name, at) => `{ use: vault, id: u${at}, spot: ${name} }`).join(', ') + ', hop'));

  it('is found where another spot of the segment is spelled alike, and mended where that one has several uses', async () => {
    const slip = spots('gate', '⟦gaet⟧', 'gate');
    await expectMarked(slip, code);
    expect(await findingsOf(await fixed(slip))).toEqual([]);
    expect((await fixed(slip))['a.route.yaml']).toContain('id: u1, spot: gate }');
    const [first, second] = await expectMarked(spots('⟦gate⟧', '⟦gatte⟧'), code);
    expect(first?.message).toContain('Did you mean `gatte`?');
    expect([first?.fix, second?.fix]).toEqual([undefined, undefined]);
  });

  it('is not found while a use waits for the one that it excludes', async () => {
    expect(await findingsOf(spots('gate'))).toEqual([]);
    expect(await findingsOf(spots('gate', 'quay'))).toEqual([]);
  });
});

describe('restart-unwritten', () => {
  it('is found once runs end early, and its fix writes what counts already', async () => {
    const unwritten = exampleRoute.replace('restart: 14\n', '');
    const files = (ended: string) => ({
      'a.route.yaml': unwritten.replace('category', '⟦category⟧'),
      'a.runs.yaml': `route: a.route.yaml\nruns: [{ start: 2026-10-05${ended} }]\n`,
    });
    const ended = files(', ended: { at: harbor, why: reset }');
    await expectMarked(ended, 'restart-unwritten');
    expect((await fixed(ended))['a.route.yaml']).toBe(exampleRoute.replace('restart: 14', 'restart: 10'));
    expect(await findingsOf({ ...files(''), 'a.route.yaml': unwritten })).toEqual([]);
  });
});

describe('the week', () => {
  const week = (rest: string) => ({
    'a.route.yaml': exampleRoute,
    'a.week.yaml': `route: a.route.yaml\n${rest}`,
  });

  it('has no room for more pins than blocks, or than a practice set', async () => {
    await expectMarked(
      week('days: { mon: 50 }\n⟦pin⟧: [crate-vault, rope-swing, lamp-hop]\n'),
      'too-many-pins',
    );
    expect(await findingsOf(week('days: { mon: 75 }\npin: [crate-vault, rope-swing, lamp-hop]\n'))).toEqual(
      [],
    );
    expect(await findingsOf(week('pin: [crate-vault, rope-swing, lamp-hop]\n'))).toEqual([]);
  });

  it('has a target that the route can beat', async () => {
    // 92.4 s and 128 s, less 3.2, 7.5 and 1.8 s, less four times the root of 1.1² + 1.4²: 200.8 s.
    await expectMarked(week('target: ⟦"3:20.7"⟧\n'), 'target-out-of-reach');
    expect(await findingsOf(week('target: "3:20.9"\n'))).toEqual([]);
  });

  it('has own times that are of the same segment', async () => {
    await expectMarked(week('times: { harbor: { time: ⟦139⟧ } }\n'), 'own-time-far-off');
    await expectMarked(week('times: { harbor: { time: ⟦61⟧ } }\n'), 'own-time-far-off');
    expect(await findingsOf(week('times: { harbor: { time: 138 }, rope-yard: { time: 86 } }\n'))).toEqual([]);
  });

  it('has states that the logs do not contradict', async () => {
    const files = (state: string, start: string) => ({
      ...week(`states: { crate-vault: ${state} }\n`),
      'a.practice.yaml': `route: a.route.yaml\nsessions: [{ start: ${start}, blocks: [{ technique: crate-vault, minutes: 25 }] }]\n`,
    });
    const slip = files('⟦unlearned⟧', '2026-10-05');
    await expectMarked(slip, 'state-against-logs');
    expect((await fixed(slip))['a.week.yaml']).toContain('states: { crate-vault: learning }');
    expect(await findingsOf(files('unlearned', '2026-10-05'), { today: '2026-11-05' })).toEqual([]);
    expect(await findingsOf(files('in-run', '2026-10-05'))).toEqual([]);
  });
});
