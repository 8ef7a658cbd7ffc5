import { describe, expect, it } from 'vitest';
import type { Standing } from '../../../../server/src/model/core/standing.ts';
import { changedStandings } from '../../../../server/src/model/tonight/changedStandings.ts';
import { notForRuns } from '../../../../server/src/model/tonight/notForRuns.ts';
import { whyNothing } from '../../../../server/src/model/tonight/whyNothing.ts';
import type { PlanDay } from '../../../../server/src/model/week/planWeek.ts';
import { block, route, segment, technique, use } from '../../../helpers/invented.ts';
import { standing } from '../../../helpers/standings.ts';

const byId = (...all: Standing[]): Map<string, Standing> => new Map(all.map((one) => [one.technique, one]));

describe('what changed', () => {
  it('is where the kind differs, with the cause of today', () => {
    const now = byId(
      standing('ash', { kind: 'in-run', cause: { why: 'competent' } }),
      standing('bell', { cause: { why: 'practised', days: 4, minutes: 100 } }),
    );
    expect(changedStandings(byId(standing('ash'), standing('bell')), now)).toEqual([
      { technique: 'ash', from: 'learning', to: 'in-run', standing: now.get('ash') },
    ]);
  });

  it('is no technique that one of the two mornings does not have', () => {
    expect(changedStandings(byId(standing('ash')), byId(standing('bell', { kind: 'again' })))).toEqual([]);
  });
});

describe('what to leave out of runs', () => {
  const ids = ['ash', 'bell', 'crag', 'dune'];
  const plain = route(
    [
      segment(
        's',
        60,
        ids.map((id) => use(id, 2, 1)),
      ),
    ],
    ids.map((id) => technique(id)),
  );
  const left = (all: readonly Standing[], of = plain): string[] =>
    notForRuns(all, of).map((one) => one.technique);

  it('begins with what is tried in runs, furthest below its break-even first', () => {
    expect(
      left([
        standing('ash', { breakEven: 0.6, runNow: 0.2 }),
        standing('bell', { kind: 'again', tried: true, breakEven: 0.5, runNow: 0.4 }),
        standing('crag', { kind: 'again', tried: true, breakEven: 0.5, runNow: 0.1 }),
        standing('dune', { breakEven: 0.6, runNow: 0.5 }),
      ]),
    ).toEqual(['crag', 'bell', 'ash', 'dune']);
  });

  it('is not what pays on average, what is left out, and what nobody would try', () => {
    expect(
      left([
        standing('ash', { kind: 'again', tried: true, worthTrying: true }),
        standing('bell', { kind: 'left-out', tried: true, cause: { why: 'left out' } }),
        standing('crag', { kind: 'not-begun', cause: { why: 'nothing logged' } }),
        standing('dune', { breakEven: 0.3, runNow: 0.5, worthTrying: true }),
      ]),
    ).toEqual([]);
  });

  it('has what saves nothing in runs, unless it opens another', () => {
    const never = ['ash', 'bell', 'crag'].map((id) =>
      standing(id, { kind: 'in-run', tried: true, breakEven: null, cause: { why: 'never pays' } }),
    );
    const opening = route(
      [
        segment('s', 60, [
          use('bell', 1, 1, { take: 'oil' }),
          use('crag', 1, 1),
          use('dune', 2, 1, { with: 'oil' }),
        ]),
      ],
      [technique('ash'), technique('bell'), technique('crag'), technique('dune', { needs: ['ash'] })],
    );
    expect(left(never)).toEqual(['ash', 'bell', 'crag']);
    expect(left(never, opening)).toEqual(['crag']);
  });
});

describe('why there is nothing', () => {
  const day = (n: number, blocks: PlanDay['blocks'] = []): PlanDay => ({
    day: 100 + n,
    blocks,
    set: [],
    unused: null,
  });
  const one = [{ technique: 'ash', minutes: 25, rest: 0 }];
  interface Given {
    readonly given: readonly number[];
    readonly free?: readonly number[];
    readonly days: readonly PlanDay[];
    readonly done?: number;
    readonly standings?: readonly Standing[];
  }
  const why = ({ given, free = given, days, done = 0, standings = [standing('ash')] }: Given) =>
    whyNothing(
      {
        plan: {
          route: route([segment('s', 60, [use('ash', 2, 1)])], [technique('ash')]),
          logs: {
            practice: done > 0 ? [block('ash', 100, 10, 50, { minutes: done })] : [],
            runs: [],
          },
          asOfDay: 100,
          options: { blockMinutes: 25, confidence: 0.8, all: true },
          minutes: free,
          standings: new Map(),
        },
        givenMinutes: given,
        lastTime: null,
      },
      {
        asOfDay: 100,
        set: [],
        days,
        changes: [],
        swaps: [],
        forecast: [],
        oneSession: { gain: 0 },
        gap: { method: 'not bounded', value: 0, bound: null },
        notPlanned: [],
        standings,
      },
    );

  it('is not asked where there is a block', () => {
    expect(why({ given: [60], days: [day(0, one)] })).toBeNull();
  });

  it('is that today has no minutes, and names the next day with practice', () => {
    expect(why({ given: [0, 10, 40], days: [day(0), day(1), day(2, one)] })).toEqual({
      why: 'no minutes',
      next: { day: 102, minutes: 40 },
    });
    expect(why({ given: [0, 0], days: [day(0), day(1)] })).toEqual({ why: 'no minutes', next: null });
  });

  it('is that the minutes are few, used, or that each technique had its time', () => {
    const days = [day(0), day(1, one)];
    const next = { day: 101, minutes: 40 };
    expect(why({ given: [17, 40], days })).toEqual({ why: 'too few minutes', minutes: 17, next });
    expect(why({ given: [40, 40], free: [5, 40], days, done: 30 })).toEqual({ why: 'minutes used', next });
    expect(why({ given: [180, 40], free: [115, 40], days, done: 60 })).toEqual({ why: 'day is full', next });
  });

  it('counts what is left where no day has practice', () => {
    const standings = [
      standing('ash', { kind: 'in-run', cause: { why: 'competent' } }),
      standing('bell', { kind: 'left-out', cause: { why: 'left out' } }),
      standing('crag', { kind: 'waiting', cause: { why: 'item', item: 'oil' } }),
      standing('dune', { kind: 'aside', cause: { why: 'hopeless', days: 5, minutes: 125, chance: 0.05 } }),
    ];
    expect(why({ given: [60, 60], days: [day(0), day(1)], standings })).toEqual({
      why: 'nothing left',
      counts: { competent: 1, leftOut: 1, waiting: 1, hopeless: 1 },
    });
  });
});
