import { expect, test } from 'vitest';
import { resolveConstants } from '../../../../../server/src/model/core/constants.ts';
import { expectationInRun, practiceLogits } from '../../../../../server/src/model/skill/rateEstimates.ts';
import { forecastLevels } from '../../../../../server/src/model/skill/forecast.ts';
import { rank, ModelCache } from '../../../../../server/src/model/index.ts';
import type { RankInput } from '../../../../../server/src/model/index.ts';
import { prepareModel } from '../../../../../server/src/model/run/preparedModel.ts';
import { tabulate } from '../../../../../server/src/model/core/rateTable.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../../helpers/invented.ts';

/** Five segments of ten minutes: one technique has more between landing and missing, another saves more. */
function asked(target: number | undefined): RankInput {
  const uses = { b: [use('sure', 8, 4)], d: [use('bold', 10, 0.5)] };
  const segments = ['a', 'b', 'c', 'd', 'e'].map((id) =>
    segment(id, 600, uses[id as keyof typeof uses] ?? [], { spread: 0.5 }),
  );
  const practice = ['sure', 'bold'].map((id, order) => block(id, 3, 60, 100, { minutes: 10, order }));
  return {
    route: route(segments, [technique('sure'), technique('bold')]),
    logs: { practice, runs: [] },
    asOfDay: 4,
    options: { ...plainOptions, all: true, ...(target !== undefined && { objective: 'target', target }) },
  };
}

/** The standard normal distribution, summed from its density in small steps. */
function under(z: number): number {
  let sum = 0;
  for (let x = -8; x < z; x += 1e-3) sum += 1e-3 * Math.exp(-0.5 * (x + 5e-4) ** 2);
  return Math.min(1, sum / Math.sqrt(2 * Math.PI));
}

test('what gains less on average comes first where nothing else reaches the target', () => {
  const first = (input: RankInput): string => rank(input).rows[0]!.technique;
  expect(first(asked(undefined))).toBe('sure');
  expect(first(asked(2990.8))).toBe('bold');
});

test('a gain is the rise of the chance, expected over what is believed of the landing rate', () => {
  const input = asked(2996);
  const { rows, target } = rank(input);
  const { fittedTechniques: subjects } = prepareModel(input);
  // With nothing else tried, and never a reset: a run of five normal segments, shifted by landing or missing.
  const beaten = (shift: number): number => under((2996 - 3000 - shift) / Math.sqrt(5 * 0.25));
  const shifts = { sure: [-8, 4], bold: [-10, 0.5] } as const;
  const inAnHour = (id: keyof typeof shifts, rate: number): number => {
    const [landed, missed] = shifts[id];
    // Below break-even it is not tried.
    if (rate * -landed < (1 - rate) * missed) return beaten(0);
    const perRun = rate * beaten(landed) + (1 - rate) * beaten(missed);
    return 1 - (1 - perRun) ** (3600 / (3000 + rate * landed + (1 - rate) * missed + 14));
  };
  expect(target!.chance).toBeLessThan(0.01);
  for (const { technique: id, blocks, gain } of rows) {
    const { posterior, history } = subjects.get(id)!;
    const { practised, idle } = forecastLevels(history, 4, 25, resolveConstants());
    const worth = tabulate((rate) => inAnHour(id as keyof typeof shifts, rate), 1e-4);
    const at = (level: number): number =>
      expectationInRun(posterior, practiceLogits(posterior, level), worth);
    const expected = at(practised[blocks]!) - at(idle[blocks]!);
    expect(gain).toBeGreaterThan(0.01);
    expect(Math.abs(gain - expected)).toBeLessThan(0.1 * expected);
  }
});

test('a target that no run comes near is ranked by time, row for row, and says so', () => {
  const out = rank(asked(120));
  const { rows } = rank(asked(undefined));
  expect(out.target).toMatchObject({ seconds: 120, ranked: false });
  expect(out.rows).toEqual(rows);
  expect(rank(asked(2996)).target?.ranked).toBe(true);
});

test('the order by a target is the same whatever is remembered from a ranking by time', () => {
  const cache = new ModelCache();
  rank(asked(undefined), cache);
  expect(rank(asked(2996), cache)).toEqual(rank(asked(2996)));
  expect(rank(asked(undefined), cache)).toEqual(rank(asked(undefined)));
});
