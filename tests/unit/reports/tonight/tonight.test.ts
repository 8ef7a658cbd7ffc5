import { describe, expect, it } from 'vitest';
import type { Tonight, TonightBlock } from '../../../../server/src/model/tonight/tonight.ts';
import type { NothingToPractise } from '../../../../server/src/model/tonight/whyNothing.ts';
import { tonightView } from '../../../../server/src/reports/panel/tonightView.ts';
import { pageText } from '../../../../server/src/cli/terminal/layout/pageText.ts';
import { screenOf } from '../../../../server/src/cli/terminal/layout/screen.ts';
import { tonightJson } from '../../../../server/src/reports/tonight/tonightJson.ts';
import { tonightPage } from '../../../../server/src/reports/tonight/tonightPage.ts';
import { tonightReport } from '../../../../server/src/reports/tonight/tonightReport.ts';
import { tonightText } from '../../../../server/src/reports/tonight/tonightText.ts';
import { standing } from '../../../helpers/standings.ts';
import { viewMarkdown } from '../../../helpers/viewMarkdown.ts';

/** 2026-11-09 as a day number, a Monday: `date -d 2026-11-09 +%s` gives 1794182400. */
const monday = 1794182400 / 86400;

const names = new Map([
  ['vault', 'Crate vault'],
  ['kick', 'Wall kick'],
  ['clip', 'Lamp clip'],
  ['skip', 'Tide skip'],
  ['slick', 'Oil slick'],
]);
const words = { names, starts: new Map([['vault', 'quay, left of the crates']]), caution: undefined };

const block = (technique: string, more: Partial<TonightBlock> = {}): TonightBlock => ({
  technique,
  minutes: 25,
  rest: 0,
  standing: standing(technique),
  gainPerHour: 1.26,
  gamble: null,
  ...more,
});
const nothingYet: Tonight = {
  day: monday,
  blocks: [],
  done: [],
  nothing: { why: 'no techniques' },
  notInRuns: [],
  lastDay: null,
  changed: [],
  unused: null,
  standings: [],
  swaps: [],
};
const evening: Tonight = {
  ...nothingYet,
  nothing: null,
  blocks: [
    block('vault', {
      rest: 5,
      standing: standing('vault', {
        kind: 'again',
        cause: { why: 'costs time' },
        runNow: 0.2,
        breakEven: 0.4,
      }),
    }),
    block('kick', { rest: 5 }),
    block('clip', {
      standing: standing('clip', { kind: 'not-begun', cause: { why: 'nothing logged' } }),
      gamble: { chance: 0.31, hours: 2.5 },
    }),
  ],
  unused: { minutes: 15, rule: 'short-block' },
};
const line = (tonight: Tonight, name: string, caution?: string): string | undefined =>
  tonightText(tonight, { ...words, caution }).lines.find((one) => one.name === name)?.text;

describe('tonight in words', () => {
  it('says what to practise, in which order, how long and from where', () => {
    const { title, summary, steps } = tonightText(evening, words);
    expect(title).toBe('Tonight, Mon 2026-11-09');
    expect(summary).toBe('Crate vault, Wall kick and Lamp clip, 25 min each.');
    expect(steps.map(({ name, text }) => `${name}, ${text}`)).toEqual([
      'Crate vault, 25 min; from: quay, left of the crates; then rest 5 min',
      'Wall kick, 25 min; then rest 5 min',
      'Lamp clip, 25 min',
    ]);
  });

  it('says why: what is to work on again with its cause, the others by their kind, gambles by their name', () => {
    expect(line(evening, 'Why')).toBe(
      'Crate vault is to be worked on again. Trying it in runs costs time: it lands 20 % in runs and pays from 40 %. ' +
        'Wall kick is being learned. Lamp clip is new. ' +
        'Lamp clip is a gamble: about 3 in 10 that it pays after 2.5 h of practice.',
    );
  });

  it('has one sentence for gambles with the same chance after the same practice', () => {
    const gamble = { chance: 0.31, hours: 0.5 };
    const blocks = [block('vault', { gamble }), block('kick', { gamble }), block('clip')];
    expect(line({ ...evening, blocks }, 'Why')).toContain(
      'Crate vault and Wall kick are each a gamble: about 3 in 10 that it pays after 30 min of practice.',
    );
  });

  it('names a technique once, however many blocks it has', () => {
    const blocks = [block('vault'), block('kick'), block('vault')];
    expect(line({ ...evening, blocks }, 'Why')).toBe('Crate vault and Wall kick are being learned.');
    expect(tonightText({ ...evening, blocks }, words).summary).toBe(
      'Crate vault and Wall kick, 3 blocks of 25 min.',
    );
  });

  it('says what changed and why, and how many more there are', () => {
    const changed = [...names.keys()].map((technique) => ({
      technique,
      from: 'learning' as const,
      to: 'in-run' as const,
      standing: standing(technique, {
        kind: 'in-run',
        cause: { why: 'competent' },
        chancePays: 0.85,
        runNow: 0.6,
      }),
    }));
    const sentence =
      'went from “being learned” to “in the run”. The chance that trying it in runs pays is 85 %: it lands 60 % in runs and pays from 50 %.';
    expect(line({ ...evening, lastDay: monday - 2, changed: changed.slice(0, 1) }, 'Changed')).toBe(
      `since the morning of Sat 2026-11-07: Crate vault ${sentence}`,
    );
    const all = line({ ...evening, lastDay: monday - 2, changed }, 'Changed')!;
    expect(all.split(sentence)).toHaveLength(5);
    expect(all).toMatch(/ 1 technique more changed\.$/);
    expect(line({ ...evening, lastDay: monday - 2 }, 'Changed')).toBe(
      'nothing since the morning of Sat 2026-11-07.',
    );
    // Before anything is logged there is nothing to compare with, and nothing is said.
    expect(line(evening, 'Changed')).toBeUndefined();
  });

  it('says what to leave out of runs, with the two rates', () => {
    const notInRuns = [
      standing('skip', { breakEven: 0.31, runNow: 0.07 }),
      standing('slick', { kind: 'in-run', tried: true, breakEven: null }),
    ];
    expect(line({ ...evening, notInRuns }, 'Not in runs')).toBe(
      'Leave these out of runs for now: Tide skip (lands 7 % in a run, saves time from 31 % on) and Oil slick (saves no time).',
    );
    expect(line({ ...evening, notInRuns: notInRuns.slice(0, 1) }, 'Not in runs')).toBe(
      'Leave Tide skip out of runs for now: it lands 7 % in a run; from 31 % on it saves time.',
    );
    // The rates are explained with the first technique that has both, wherever it stands.
    const three = [...notInRuns.toReversed(), standing('kick', { breakEven: 0.4, runNow: 0.2 })];
    expect(line({ ...evening, notInRuns: three }, 'Not in runs')).toBe(
      'Leave these out of runs for now: Oil slick (saves no time), Tide skip (lands 7 % in a run, saves time from 31 % on) and Wall kick (20 %, from 40 % on).',
    );
    const five = [...names.keys()].map((id) => standing(id));
    expect(line({ ...evening, notInRuns: five }, 'Not in runs')).toMatch(/ and 1 more\.$/);
    expect(line(evening, 'Not in runs')).toBeUndefined();
  });

  it('says that minutes are unused because the route has no technique, where it has none', () => {
    const unused = { minutes: 50, rule: 'nothing-to-practise' } as const;
    expect(line({ ...nothingYet, unused }, 'Unused')).toBe('50 min: the route has no techniques yet.');
    expect(line({ ...nothingYet, unused, standings: [standing('vault')] }, 'Unused')).toBe(
      '50 min: no technique is left to practise.',
    );
  });

  describe('where all of the evening is new', () => {
    const isNew = (id: string) => standing(id, { kind: 'not-begun', cause: { why: 'nothing logged' } });
    const why = (standings: Tonight['standings'], blocks: Tonight['blocks']): string | undefined =>
      line({ ...evening, standings, blocks }, 'Why');
    const begun = [block('vault', { standing: isNew('vault') }), block('kick', { standing: isNew('kick') })];

    it('says what the plan chooses by, since the ranking may have another order', () => {
      expect(why([isNew('vault'), isNew('kick'), isNew('skip')], begun)).toMatch(
        /^Crate vault and Wall kick are new\. The order need not be that of the ranking: .*every morning/,
      );
    });

    it('says no more where there was no choice, or where something is being learned', () => {
      expect(why([isNew('vault'), isNew('kick')], begun)).toBe('Crate vault and Wall kick are new.');
      const standings = [isNew('vault'), standing('kick'), isNew('skip')];
      expect(why(standings, [begun[0]!, block('kick')])).toBe(
        'Crate vault is new. Wall kick is being learned.',
      );
    });
  });

  it('says of a slip that later runs did not make good whether trying pays all the same', () => {
    const slipped = (worthTrying: boolean, chancePays: number) =>
      block('vault', {
        standing: standing('vault', {
          kind: 'again',
          cause: { why: 'not back yet', day: monday - 1, slipped: true },
          worthTrying,
          chancePays,
        }),
      });
    const since = 'It slipped in runs up to 2026-11-08 and has not landed as often as before since';
    const why = (one: TonightBlock) => line({ ...evening, blocks: [one] }, 'Why');
    expect(why(slipped(true, 0.999))).toBe(
      `Crate vault is to be worked on again. ${since}. It still lands often enough to try it in runs: the chance that trying it pays is more than 99 %. Practise it until it lands as before.`,
    );
    expect(why(slipped(false, 0.3))).toBe(
      `Crate vault is to be worked on again. ${since}: the chance that trying it pays is 30 %.`,
    );
  });

  it('names the rule that forbids the use of minutes, what is done, and the caution', () => {
    expect(line(evening, 'Unused')).toBe('15 min: a block takes at least 20 min.');
    expect(line({ ...evening, unused: null }, 'Unused')).toBeUndefined();
    expect(line(evening, 'Done today')).toBeUndefined();
    const done = [
      { technique: 'vault', minutes: 25 },
      { technique: 'kick', minutes: 12.5 },
    ];
    expect(line({ ...evening, done }, 'Done today')).toBe('Crate vault 25 min and Wall kick 13 min.');
    expect(line(evening, 'Take care')).toBeUndefined();
    expect(line(evening, 'Take care', 'Rest.')).toBe('Rest.');
  });

  const next = { day: monday + 2, minutes: 90 };
  const none = { competent: 0, leftOut: 0, waiting: 0, hopeless: 0 };
  it.each<[NothingToPractise, string]>([
    [{ why: 'no techniques' }, 'The route has no technique yet.'],
    [
      { why: 'no minutes', next },
      'Today has no minutes for practice. The next practice is on Wed 2026-11-11 (90 min).',
    ],
    [{ why: 'no minutes', next: null }, 'No day of the coming weeks has minutes for practice.'],
    [{ why: 'minutes used', next }, "Today's minutes are used. The next practice is on Wed"],
    [{ why: 'too few minutes', minutes: 17, next }, 'Today has 17 min, and a block takes at least 20 min.'],
    [
      { why: 'day is full', next: null },
      'had its time today, at most an hour. No day of the coming weeks has practice.',
    ],
    [{ why: 'nothing left', counts: { ...none, competent: 3 } }, 'Every technique is in the run'],
    [{ why: 'nothing left', counts: { ...none, leftOut: 3 } }, 'leaves every technique out'],
    [{ why: 'nothing left', counts: { ...none, waiting: 3 } }, 'Every technique waits'],
    [{ why: 'nothing left', counts: { ...none, hopeless: 3 } }, 'No technique is expected to pay'],
    [
      { why: 'nothing left', counts: { competent: 2, leftOut: 1, waiting: 0, hopeless: 1 } },
      'Nothing is left to practise: 2 techniques are in the run, 1 is left out and 1 is not expected to pay within the coming weeks.',
    ],
    [
      { why: 'nothing left', counts: { competent: 0, leftOut: 1, waiting: 2, hopeless: 0 } },
      'Nothing is left to practise: 1 technique is left out and 2 wait for something else.',
    ],
  ])('says why there is nothing: %j', (nothing, sentence) => {
    const { summary, steps, lines } = tonightText({ ...nothingYet, nothing }, words);
    expect(summary).toContain(sentence);
    expect(steps).toEqual([]);
    // No line stands there to say that there is nothing.
    expect(lines).toEqual([]);
  });
});

describe('tonight as data', () => {
  it('has ids, places and reasons, rounded, in the promised order', () => {
    const done = [{ technique: 'kick', minutes: 100 / 3 }];
    const report = tonightJson(tonightReport({ ...evening, done, lastDay: monday - 1 }, words));
    expect(Object.keys(report).slice(0, 6)).toEqual([
      'date',
      'blocks',
      'notInRuns',
      'changed',
      'unusedMinutes',
      'standings',
    ]);
    expect(report).toMatchObject({
      date: '2026-11-09',
      lastDate: '2026-11-08',
      unusedMinutes: 15,
      unusedRule: 'short-block',
      done: [{ technique: 'kick', minutes: 33.33 }],
      nothing: null,
    });
    expect(report.blocks.map(({ technique, from }) => [technique, from])).toEqual([
      ['vault', 'quay, left of the crates'],
      ['kick', null],
      ['clip', null],
    ]);
    expect(report.blocks[2]!.reason).toBe(
      'Not begun: Nothing of it is logged. An hour on it is expected to gain 1.3 s a run. ' +
        'It is a gamble: about 3 in 10 that it pays after 2.5 h of practice.',
    );
  });

  it('names the next day with practice where there is nothing today', () => {
    const nothing = { why: 'no minutes', next: { day: monday + 2, minutes: 90 } } as const;
    expect(tonightReport({ ...nothingYet, nothing }, words).nothing).toEqual({
      why: 'no minutes',
      next: '2026-11-11',
    });
  });
});

describe('names of a shared route', () => {
  const emptyWeek = {
    summary: '',
    set: [],
    outside: [],
    days: [],
    longest: 0,
    forecast: [],
    ticks: [],
    gainTicks: [],
    facts: [],
    notes: [],
  };
  const hostile = '<img src=x onerror=alert(1)> *x*\u001b[31m';
  const text = tonightText(evening, {
    names: new Map([['vault', hostile]]),
    starts: new Map([['vault', hostile]]),
    caution: undefined,
  });

  it('are text for a terminal, in Markdown and in the panel', () => {
    const page = tonightPage(text, { title: 'L', basis: 'Basis.' });
    expect(pageText(page, screenOf({ isTTY: false }, {}))).not.toContain('\u001b');
    const tonight = tonightView(text);
    const week = { ...emptyWeek, tonight };
    expect(viewMarkdown({ week })).not.toMatch(/(?<!\\)<img/);
    expect(JSON.stringify(tonight)).not.toContain('\\u001b');
  });
});
