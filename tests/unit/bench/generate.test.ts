import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readSource } from '../../../server/src/files/reading/reading.ts';
import { makePractice, makeRuns, oneMoreSession } from '../../bench/logs.ts';
import { makeRoute } from '../../bench/route.ts';

interface RouteText {
  segments: { id: string; techniques: (string | { use: string })[] }[];
  techniques: Record<string, { difficulty: number; needs?: string[] }>;
}

const file = 'lanternfall.route.yaml';

describe('a generated route', () => {
  const route = makeRoute(3, { lines: 10_000 });
  const content = parse(route.text) as RouteText;

  it.each([1_000, 10_000])('of %i lines has that many, and no problem', (lines) => {
    const { text } = makeRoute(3, { lines });
    expect(text.endsWith('\n')).toBe(true);
    expect(text.split('\n')).toHaveLength(lines + 1);
    expect(readSource('route', text).problems).toEqual([]);
  });

  it('says the same as what is handed on beside the text', () => {
    expect(Object.keys(content.techniques)).toEqual(route.techniques.map(({ id }) => id));
    expect(content.segments.map(({ id }) => id)).toEqual(route.segments.map(({ id }) => id));
    expect(new Set(content.segments.map(({ id }) => id)).size).toBe(content.segments.length);
  });

  it('uses every technique, and uses and needs only those that it has', () => {
    const used = content.segments.flatMap(({ techniques }) =>
      techniques.map((use) => (typeof use === 'string' ? use : use.use)),
    );
    expect(new Set(used)).toEqual(new Set(Object.keys(content.techniques)));
    const needed = Object.values(content.techniques).flatMap(({ needs }) => needs ?? []);
    expect(needed.length).toBeGreaterThan(50);
    expect(needed.filter((id) => !(id in content.techniques))).toEqual([]);
  });

  it('is the same for the same seed, and another for another', () => {
    expect(makeRoute(3, { lines: 1_000 })).toEqual(makeRoute(3, { lines: 1_000 }));
    expect(makeRoute(4, { lines: 1_000 }).text).not.toBe(makeRoute(3, { lines: 1_000 }).text);
  });
});

describe('generated logs', () => {
  const route = makeRoute(3, { techniques: 200 });
  const practice = makePractice(4, route, file, 2_000);
  const runs = makeRuns(5, route, file, 60);
  const blocksOf = (text: string) =>
    (parse(text) as { sessions: { blocks: { technique: string }[] }[] }).sessions.flatMap(
      ({ blocks }) => blocks,
    );

  it('have no problem', () => {
    expect(readSource('practice', practice).problems).toEqual([]);
    expect(readSource('runs', runs).problems).toEqual([]);
  });

  it('hold 2,000 blocks over all 200 techniques', () => {
    const blocks = blocksOf(practice);
    expect(blocks).toHaveLength(2_000);
    expect(new Set(blocks.map(({ technique }) => technique)).size).toBe(200);
    expect(route.techniques).toHaveLength(200);
  });

  it('take one more session at their end', () => {
    const [technique] = route.techniques;
    if (!technique) throw new Error('no technique');
    const longer = practice + oneMoreSession(technique, 500);
    expect(readSource('practice', longer).problems).toEqual([]);
    expect(blocksOf(longer)).toHaveLength(2_001);
  });
});
