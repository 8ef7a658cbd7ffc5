import { describe, expect, it } from 'vitest';
import { oddsFromLogs } from '../../../../server/src/model/run/oddsFromLogs.ts';
import { runTimes } from '../../../../server/src/model/run/runTimes.ts';
import type { RankInput } from '../../../../server/src/model/run/preparedModel.ts';

function inputOf(spread: number, survive = 1): RankInput {
  const segment = (id: string, time: number) => ({ id, time, spread, survive, luck: [], uses: [] });
  return {
    route: { segments: [segment('harbor', 90), segment('rope-yard', 110)], techniques: [], restart: 10 },
    logs: { practice: [], runs: [] },
    asOfDay: 0,
    options: { blockMinutes: 25, confidence: 0.8, all: false },
  };
}

describe('final times as bars', () => {
  it('hold the mass and the mean of the distribution', () => {
    const { bars } = runTimes(inputOf(2, 0.9));
    const total = bars.reduce((sum, { share }) => sum + share, 0);
    expect(total).toBeGreaterThan(0.997);
    expect(total).toBeLessThanOrEqual(1 + 1e-9);
    const mean = bars.reduce((sum, { from, to, share }) => sum + (share * (from + to)) / 2, 0) / total;
    // 90 s and 110 s, whatever the spread.
    expect(mean).toBeCloseTo(200, 0);
  });

  it('agree with the odds on the chance to beat a time', () => {
    const input = inputOf(2, 0.9);
    const { bars } = runTimes(input);
    const target = bars[Math.floor(bars.length / 3)]!.to;
    const under = bars.filter(({ to }) => to <= target).reduce((sum, { share }) => sum + share, 0);
    const { chance, finishChance } = oddsFromLogs(input, { target });
    expect(under).toBeCloseTo(chance! / finishChance, 2);
  });

  it('stand side by side, as many as can be told apart', () => {
    const { bars } = runTimes(inputOf(2));
    bars.slice(1).forEach(({ from }, i) => expect(from).toBeCloseTo(bars[i]!.to, 9));
    expect(bars.length).toBeGreaterThan(5);
    expect(bars.length).toBeLessThan(60);
  });

  it('are few where nothing scatters', () => {
    const { bars } = runTimes(inputOf(0));
    expect(bars.length).toBeLessThanOrEqual(2);
    expect(bars.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });

  it('come with the usual clock at the end of each segment', () => {
    const { clocks } = runTimes(inputOf(2, 0.9));
    expect(clocks.map(({ segment }) => segment)).toEqual(['harbor', 'rope-yard']);
    expect(clocks[0]!.clock).toBeCloseTo(90, 6);
    expect(clocks[1]!.clock).toBeCloseTo(200, 6);
  });
});
