import { describe, expect, it } from 'vitest';
import { expectMarked, plainRoute, underlined } from './marked.ts';

const practice = (...sessions: string[]) =>
  `route: a.route.yaml\nsessions:\n${sessions.map((session) => `  - { ${session} }\n`).join('')}`;
const block = (rest: string, start = '2026-10-05T19:30') => `start: ${start}, blocks: [{ ${rest} }]`;
const runs = (...entries: string[]) =>
  `route: a.route.yaml\nruns:\n${entries.map((run) => `  - { ${run} }\n`).join('')}`;

/** A practice file with the route it belongs to. */
const practiced = (...sessions: string[]) => ({
  'a.route.yaml': plainRoute,
  'a.practice.yaml': practice(...sessions),
});
const ran = (...entries: string[]) => ({ 'a.route.yaml': plainRoute, 'a.runs.yaml': runs(...entries) });

describe('not-a-date', () => {
  it('is found for days and times that no calendar or clock has', async () => {
    const [day, time] = await expectMarked(
      practiced(
        block('technique: crate-vault, minutes: 20', '⟦2026-02-30⟧'),
        block('technique: crate-vault, minutes: 20', '⟦2026-03-01T24:10⟧'),
        block('technique: crate-vault, minutes: 20', '"2028-02-29T23:59"'),
      ),
      'not-a-date',
    );
    expect(day?.message).toContain('no day `2026-02-30`');
    expect(time?.message).toContain('no time of day `2026-03-01T24:10`');
    await expectMarked(
      ran('start: ⟦"2026-06-31"⟧', 'date: ⟦2027-02-29⟧, runs: 3', 'date: 2026-06-30, runs: 3'),
      'not-a-date',
    );
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        'a.week.yaml': 'route: a.route.yaml\noff: [2026-10-31, ⟦2026-11-31⟧]\nruns: { sat: 60 }\n',
      },
      'not-a-date',
    );
  });
});

describe('more-landed-than-tried', () => {
  it('is found in every kind of count, without a fix', async () => {
    const findings = await expectMarked(
      {
        ...practiced(
          block('technique: crate-vault, minutes: 25, landed: ⟦[61, 45]⟧'),
          block('technique: crate-vault, minutes: 25, seen: ⟦[7, 0]⟧', '2026-10-06'),
          block('segment: harbor, minutes: 25, tried: { crate-vault: ⟦[3, 2]⟧ }', '2026-10-07'),
          block('technique: crate-vault, minutes: 25, landed: [45, 45], seen: [0, 0]', '2026-10-08'),
        ),
        'a.runs.yaml': runs(
          'start: 2026-10-09, tried: { crate-vault: ⟦[2, 1]⟧ }, first: { crate-vault: ⟦[1, 0]⟧ }',
        ),
      },
      'more-landed-than-tried',
    );
    expect(findings.map(({ fix }) => fix)).toEqual([undefined, undefined, undefined, undefined, undefined]);
    expect(findings[0]?.message).toContain('61 landed of 45 tries');
  });
});

describe('attempts-exceed-minutes', () => {
  // 5 s a cycle are 12 attempts a minute: 300 in 25 minutes, 330 with the tolerance of 10 %.
  it.each([
    ['landed: [20, 331]', true],
    ['landed: [20, 330]', false],
    ['attempts: 400', true],
    ['attempts: 300, seen: [6, 10]', false],
    [`tape: ${'lm'.repeat(166)}`, true],
    [`tape: ${'lm'.repeat(150)}`, false],
  ])('looks at %s', async (count, found) => {
    const minutes = found ? '⟦25⟧' : '25';
    const files = practiced(block(`technique: crate-vault, minutes: ${minutes}, ${count}`));
    const findings = await expectMarked(files, 'attempts-exceed-minutes');
    for (const finding of findings) {
      expect(finding.severity).toBe('warning');
      expect(finding.related.map((place) => underlined(files, place))).toEqual(['a.route.yaml: practice']);
    }
  });
});

describe('counts-disagree', () => {
  it.each([
    ['landed: [3, 6], tape: ⟦lml⟧'],
    ['landed: [3, 6], attempts: ⟦8⟧'],
    ['tape: lml, attempts: ⟦4⟧'],
    ['attempts: 9, seen: ⟦[3, 10]⟧'],
    ['landed: [2, 3], tape: lml, attempts: 3, seen: [1, 2]'],
    ['attempts: 180, seen: [12, 20]'],
  ])('looks at %s', async (counts) => {
    await expectMarked(practiced(block(`technique: crate-vault, minutes: 25, ${counts}`)), 'counts-disagree');
  });
});

describe('long-day', () => {
  const blocks = (start: string, ...minutes: string[]) =>
    `start: ${start}, blocks: [${minutes.map((m) => `{ technique: crate-vault, minutes: ${m} }`).join(', ')}]`;

  // No more than an hour a day on one movement: common practice, no source.
  it('is found at the block that passes the hour, over all sessions of the day', async () => {
    const [finding] = await expectMarked(
      practiced(
        blocks('2026-10-05T18:00', '30', '20'),
        blocks('2026-10-05T22:00', '⟦20⟧', '20'),
        blocks('2026-10-06T20:00', '30', '30'),
      ),
      'long-day',
    );
    expect(finding?.message).toContain('90 minutes of `crate-vault` on 2026-10-05');
    expect(finding?.message).toMatch(/hands.*rest/);
  });

  it('counts what is practised before the day starts to the day before', async () => {
    await expectMarked(
      practiced(blocks('2026-10-05T23:00', '30', '30'), blocks('2026-10-06T03:30', '⟦10⟧')),
      'long-day',
    );
    const week = { 'a.week.yaml': 'route: a.route.yaml\nday_starts: "02:00"\n' };
    await expectMarked(
      { ...practiced(blocks('2026-10-05T23:00', '30', '30'), blocks('2026-10-06T03:30', '10')), ...week },
      'long-day',
    );
  });

  it('counts runners apart, and files that share a technique together', async () => {
    const file = (runner: string, minutes: string, at = '20:00') =>
      `${runner}${practice(blocks(`2026-10-05T${at}`, minutes))}`;
    const of = (runner: string) => `runner: ${runner}\n`;
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        '1.practice.yaml': file(of('ann'), '40'),
        '2.practice.yaml': file(of('bob'), '40'),
      },
      'long-day',
      { runner: 'ann' },
    );
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        '1.practice.yaml': file('', '40', '18:00'),
        '2.practice.yaml': file(of('ann'), '⟦40⟧'),
      },
      'long-day',
    );
    // A route and one that extends it: practice counts for both, and the day is spoken of once.
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        'b.route.yaml': 'game: L\ncategory: c\nextends: a.route.yaml\n',
        '1.practice.yaml': file('', '40'),
        '2.practice.yaml': file('', '⟦40⟧').replace('a.route', 'b.route'),
      },
      'long-day',
    );
  });
});

describe('dates-out-of-order', () => {
  it('is found where an entry began before the one above it', async () => {
    const files = practiced(
      'start: 2026-10-05T19:30',
      'start: ⟦2026-10-05T19:20⟧',
      'start: 2026-10-05T19:20',
      'start: 2026-10-06',
    );
    const [finding] = await expectMarked(files, 'dates-out-of-order');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual([
      'a.practice.yaml: 2026-10-05T19:30',
    ]);
    await expectMarked(
      ran('date: 2026-10-05, runs: 3', 'start: ⟦2026-10-04T20:00⟧', 'date: ⟦2026-10-03⟧, runs: 1'),
      'dates-out-of-order',
    );
  });

  it('takes a run after midnight as part of the evening', async () => {
    await expectMarked(ran('start: 2026-10-06T00:40', 'date: 2026-10-05, runs: 3'), 'dates-out-of-order');
  });
});

describe('date-in-future', () => {
  it('is found only against a given date', async () => {
    const files = (mark: (date: string) => string) => ({
      ...practiced(`start: 2026-10-06T03:59`, `start: ${mark('2026-10-06T04:00')}`),
      'a.runs.yaml': runs('start: 2026-10-05T23:59', `date: ${mark('2026-10-07')}, runs: 2`),
    });
    await expectMarked(
      files((date) => `⟦${date}⟧`),
      'date-in-future',
      { today: '2026-10-05' },
    );
    await expectMarked(
      files((date) => date),
      'date-in-future',
    );
    await expectMarked(
      files((date) => date),
      'date-in-future',
      { today: '2026-10-07' },
    );
  });
});

describe('runs-do-not-add-up', () => {
  it('is found where more runs ended than were started', async () => {
    const [finding] = await expectMarked(
      ran(
        'date: 2026-10-05, runs: ⟦10⟧, finished: 2, ended: { harbor: { reset: 6, death: 3 } }',
        'date: 2026-10-06, runs: 10, finished: 2, ended: { harbor: { reset: 6 } }',
      ),
      'runs-do-not-add-up',
    );
    expect(finding?.message).toContain('10 runs were started, and 11 ended: 2 finished and 9 before the end');
  });
});

describe('impossible-total', () => {
  const route = `game: L
category: c
segments:
  - { id: harbor, time: 100, spread: 1, techniques: [vault] }
  - { id: pier, time: 100, spread: 1, luck: [{ chance: 0.5, adds: -5 }] }
techniques:
  vault: { difficulty: 3, saves: 10 }
`;
  const of = (...entries: string[]) => ({ 'a.route.yaml': route, 'a.runs.yaml': runs(...entries) });

  it('is found where segments take longer than the total, or all of them do not add up to it', async () => {
    const findings = await expectMarked(
      of(
        'start: 2026-10-05, total: ⟦1:39⟧, times: { harbor: 99.6 }',
        'start: 2026-10-06, total: ⟦3:18⟧, times: { harbor: 99, pier: 98 }',
        'start: 2026-10-07, total: 3:17.4, times: { harbor: 99, pier: 98 }',
        'start: 2026-10-08, total: 3:16.6, times: { harbor: 99, pier: 98 }',
      ),
      'impossible-total',
    );
    expect(findings.map(({ message }) => message.split('.')[0])).toEqual([
      'The segments of this run take 1:39',
      'The segments of this run add up to 3:17',
    ]);
  });

  it('is found below what the route can give with everything landed and the best of luck', async () => {
    // 200 − 10 saved − 5 of luck − 4 × √2 of spread = 179.3 s.
    const [finding] = await expectMarked(
      of('start: 2026-10-05, total: ⟦2:58⟧', 'start: 2026-10-06, total: 2:59.2'),
      'impossible-total',
    );
    expect(finding?.message).toContain('about 2:59.3 with every technique landed');
  });

  it("takes the runner's own times where they are faster", async () => {
    await expectMarked(
      {
        ...of('start: 2026-10-05, total: 2:49'),
        'a.week.yaml': 'route: a.route.yaml\ntimes: { pier: { time: 90 } }\n',
      },
      'impossible-total',
    );
  });
});

describe('pinned-and-left-out', () => {
  it('is found where it is left out, by its former id too', async () => {
    const files = {
      'a.route.yaml': plainRoute.replace('saves: 3', 'saves: 3, was: [box-vault]'),
      'a.week.yaml': 'route: a.route.yaml\npin: [box-vault]\nleave_out: [⟦crate-vault⟧]\n',
    };
    const [finding] = await expectMarked(files, 'pinned-and-left-out');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual(['a.week.yaml: box-vault']);
    await expectMarked(
      { ...files, 'a.week.yaml': 'route: a.route.yaml\npin: [box-vault]\n' },
      'pinned-and-left-out',
    );
  });
});

describe('several-runners', () => {
  const noPractice = 'route: a.route.yaml\nsessions: []\n';
  const noRuns = 'route: a.route.yaml\nruns: []\n';
  const files = {
    'a.route.yaml': plainRoute,
    'a.practice.yaml': `runner: ⟦ann⟧\n${noPractice}`,
    'a.runs.yaml': `runner: "bob"\n${noRuns}`,
    'b.runs.yaml': `runner: bob\n${noRuns}`,
    'c.runs.yaml': noRuns,
  };

  it('names them, once for a route', async () => {
    const [finding] = await expectMarked(files, 'several-runners');
    expect(finding?.message).toContain('several runners: ann and bob');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual(['a.runs.yaml: "bob"']);
  });

  it('is content where one is chosen or only one is named', async () => {
    const unmarked = { ...files, 'a.practice.yaml': `runner: ann\n${noPractice}` };
    await expectMarked(unmarked, 'several-runners', { runner: 'bob' });
    await expectMarked({ ...files, 'a.practice.yaml': noPractice }, 'several-runners');
  });
});
