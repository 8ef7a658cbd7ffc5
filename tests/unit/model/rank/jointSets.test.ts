import { expect, test } from 'vitest';
import { rank } from '../../../../server/src/model/index.ts';
import type { RankInput, SegmentModel, TechniqueModel } from '../../../../server/src/model/index.ts';
import { orderCandidates } from '../../../../server/src/model/rank/rankingOrder.ts';
import type { RankedCandidate } from '../../../../server/src/model/rank/rankingOrder.ts';
import { runRateAfter } from '../../../../server/src/model/rank/itemProviders.ts';
import { noLogs, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';

function asked(segments: SegmentModel[], techniques: TechniqueModel[]): RankInput {
  return { route: route(segments, techniques), logs: noLogs, asOfDay: 0, options: plainOptions };
}

function placesOf(input: RankInput): Map<string, RankedCandidate> {
  return new Map(orderCandidates(input).ranked.map((place) => [place.candidate.id, place]));
}

const gainOf = ({ gains, blocks }: RankedCandidate): number => gains[blocks]!;

test('a pick-up and what it opens are ranked together, the pick-up first', () => {
  const segments = [
    segment('a', 90, [use('flask', 0, 0, { take: 'oil', costs: 1 })]),
    segment('b', 90, [use('slick', 14, 2, { with: 'oil' })]),
  ];
  const { rows, skipped } = rank(asked(segments, [technique('flask'), technique('slick')]));
  expect(skipped).toEqual([]);
  expect(rows.map((row) => row.technique)).toEqual(['flask', 'slick']);
  expect(rows[0]!.opensWith).toEqual(['slick']);
  expect(rows[0]!.reason).toMatch(/opens `slick`/);
  expect(rows[1]!.reason).toMatch(/after `flask`/);
  // Once the flask is picked up at its rate, slick is worth that share of what it is with oil always in hand.
  const { slick, flask } = Object.fromEntries(
    placesOf(asked(segments, [technique('flask'), technique('slick')])),
  );
  const always = placesOf(
    asked([segments[0]!, segment('b', 90, [use('slick', 14, 2)])], [technique('slick')]),
  );
  expect(gainOf(slick!)).toBeGreaterThan(0);
  expect(gainOf(slick!)).toBeLessThan(always.get('slick')!.gains[slick!.blocks]!);
  expect(flask!.blocks).toBeGreaterThan(0);
});

test('with no pick-up that can be practised, the technique that wants the item is left out with the reason', () => {
  const segments = [segment('b', 90, [use('slick', 14, 2, { with: 'oil' })])];
  const { rows, skipped } = rank(asked(segments, [technique('slick')]));
  expect(rows).toEqual([]);
  expect(skipped[0]?.reason).toMatch(/needs the item oil/);
});

test('of two pick-ups the one that serves better is taken, whichever is listed first', () => {
  const cheap = use('cheap', 0, 0, { take: 'oil', costs: 1 });
  const dear = use('dear', 0, 0, { take: 'oil', costs: 6 });
  const last = segment('b', 90, [use('slick', 14, 2, { with: 'oil' })]);
  const techniques = [technique('cheap'), technique('dear'), technique('slick')];
  for (const first of [
    [cheap, dear],
    [dear, cheap],
  ]) {
    const places = placesOf(asked([segment('a', 90, first), last], techniques));
    expect(places.get('slick')!.othersInSet).toEqual(['cheap']);
    expect(places.has('dear')).toBe(false);
  }
  // The same where both are in the run, neither worth its cost before slick is learned.
  const inRun = techniques.map((t) => (t.id === 'slick' ? t : { ...t, state: 'in-run' as const }));
  const [one, other] = [
    [cheap, dear],
    [dear, cheap],
  ].map((first) => placesOf(asked([segment('a', 90, first), last], inRun)).get('slick')!);
  expect(gainOf(one!)).toBeCloseTo(gainOf(other!), 9);
});

test('in a shared spot the second is worth what it adds to the first, never the sum of both alone', () => {
  const uses = [use('clip', 9, 2, { spot: 'gate' }), use('hop', 7, 1, { spot: 'gate' })];
  const techniques = [technique('clip'), technique('hop')];
  const together = placesOf(asked([segment('a', 90, uses)], techniques));
  const alone = placesOf(
    asked(
      [
        segment(
          'a',
          90,
          uses.map((u) => ({ ...u, spot: u.id })),
        ),
      ],
      techniques,
    ),
  );
  const [first, second] = [...together.values()];
  expect(gainOf(first!)).toBeCloseTo(alone.get(first!.candidate.id)!.gains[first!.blocks]!, 6);
  expect(second!.learnedPartners.map((one) => one.technique)).toEqual([first!.candidate.id]);
  expect(gainOf(second!)).toBeLessThan(0.7 * alone.get(second!.candidate.id)!.gains[second!.blocks]!);

  // By hand: with the first in the run at that rate, the second is held against it.
  const { candidate, blocks } = first!;
  const order = orderCandidates(asked([segment('a', 90, uses)], techniques));
  const rate = runRateAfter(order.prepared, candidate.subject, candidate.levels, blocks);
  expect(second!.learnedPartners[0]!.rate).toBe(rate);
  const [best, other] =
    candidate.id === 'clip'
      ? [
          [9, 2],
          [7, 1],
        ]
      : [
          [7, 1],
          [9, 2],
        ];
  const held = rate * best[0]! - (1 - rate) * best[1]!;
  expect(second!.candidate.worth.breakEven).toBeCloseTo((held + other[1]!) / (other[0]! + other[1]!), 4);
});

test('a technique that needs another of its spot is valued with that one learned', () => {
  const uses = [use('clip', 9, 2, { spot: 'gate' }), use('hop', 7, 1, { spot: 'gate' })];
  const techniques = [technique('clip', { needs: ['hop'], difficulty: 6 }), technique('hop')];
  const places = placesOf(asked([segment('a', 90, uses)], techniques));
  expect(places.get('clip')!.learnedPartners.map((one) => one.technique)).toEqual(['hop']);
  expect([...places.keys()]).toEqual(['hop', 'clip']);
});

test('two that want one pick-up do not stand in each other’s way', () => {
  const segments = [
    segment('a', 90, [use('flask', 0, 0, { take: 'oil', costs: 1 })]),
    segment('b', 90, [use('slick', 14, 2, { with: 'oil' })]),
    segment('c', 90, [use('torch', 13, 2, { with: 'oil' })]),
  ];
  const techniques = [technique('flask'), technique('slick'), technique('torch')];
  const places = placesOf(asked(segments, techniques));
  expect([...places.keys()][0]).toBe('flask');
  expect(places.size).toBe(3);
  for (const id of ['slick', 'torch']) expect(gainOf(places.get(id)!)).toBeGreaterThan(0);
});

test('many alternatives in one spot come one after the other, each worth less than the one before', () => {
  const ids = Array.from({ length: 8 }, (_, i) => `t${i}`);
  const uses = ids.map((id, i) => use(id, 5 + 0.7 * i, 1 + 0.1 * i, { spot: 'gate' }));
  const places = [
    ...placesOf(
      asked(
        [segment('a', 90, uses)],
        ids.map((id, i) => technique(id, { difficulty: 1 + i })),
      ),
    ).values(),
  ];
  expect(places).toHaveLength(8);
  const rates = places.map(({ setGainPerHour: setRate }) => setRate);
  expect(rates).toEqual([...rates].sort((a, b) => b - a));
  places.forEach(({ learnedPartners: once }, i) => expect(once.length).toBe(i));
});

test('what can end the run in one segment is valued in the light of what else can', () => {
  const ends = { misses: [{ chance: 1, loses: 0, endsRun: true }] };
  const segments = [
    segment('a', 90, [use('leap', 6, 0, ends), use('dive', 5, 0, ends)]),
    segment('b', 900, []),
  ];
  const places = placesOf(asked(segments, [technique('leap'), technique('dive')]));
  expect([...places.values()].map(({ learnedPartners: once }) => once.length)).toEqual([0, 1]);
});
