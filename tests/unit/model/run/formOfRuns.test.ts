/**
 * Runs on days that differ in form, against plain simulation: each day a form is drawn from its normal distribution, and all
 * runs of the day are played one by one with it. Source: the definition; no outside source.
 */
import { describe, expect, test } from 'vitest';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import { known } from '../../../../server/src/model/skill/formOfDay.ts';
import type { FormOfDay } from '../../../../server/src/model/skill/formOfDay.ts';
import { computeOdds } from '../../../../server/src/model/run/odds.ts';
import type { OddsInput } from '../../../../server/src/model/run/odds.ts';
import { dayForms, formsOfWorlds, rateOnForms } from '../../../../server/src/model/run/formOfRuns.ts';
import { layOutRoute } from '../../../../server/src/model/run/routeLayout.ts';
import { route, seeded, segment, technique, use } from '../../../helpers/invented.ts';
import { playRun } from '../../../helpers/playedRuns.ts';

const rates: Readonly<Record<string, number>> = Object.fromEntries(
  Array.from({ length: 14 }, (_, i) => [`t${i}`, 0.35 + 0.045 * i]),
);
const techniques = Object.keys(rates);

const invented = route(
  techniques.map((id, i) =>
    segment(
      `s${i}`,
      60,
      [use(id, 5 + (i % 3), 2, i === 3 ? { misses: [{ chance: 1, loses: 0, endsRun: true }] } : {})],
      {
        spread: 1.2,
        survive: 0.99,
      },
    ),
  ),
  techniques.map((id) => technique(id, { state: 'in-run' })),
);

function inputOf(spread: number, more: Partial<OddsInput> = {}): OddsInput {
  return {
    route: invented,
    tried: new Set(techniques),
    rateOf: (id) => rates[id] ?? 0,
    target: 780,
    constants: defaultConstants,
    form: known(spread),
    ...more,
  };
}

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));

/** The log odds around which days of every form give the mean rate, by a fine sum and Newton's steps. */
function centreOf(rate: number, spread: number): number {
  const forms = Array.from({ length: 401 }, (_, i) => (i - 200) / 40);
  const weights = forms.map((z) => Math.exp((-z * z) / 2));
  const total = weights.reduce((a, b) => a + b, 0);
  let centre = Math.log(rate / (1 - rate));
  for (let i = 0; i < 20; i++) {
    let [mean, slope] = [0, 0];
    forms.forEach((z, n) => {
      const p = logistic(centre + spread * z);
      mean += (weights[n]! / total) * p;
      slope += (weights[n]! / total) * p * (1 - p);
    });
    centre -= (mean - rate) / slope;
  }
  return centre;
}

interface Played {
  /** For each day, the final times of its runs; null where one ended early. */
  readonly days: (number | null)[][];
}

function play(spread: number, days: number, perDay: number, seed: number, uses: readonly string[]): Played {
  const random = seeded(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const centres = new Map(techniques.map((id) => [id, centreOf(rates[id]!, spread)]));
  const layout = layOutRoute(invented);
  const played = Int32Array.from(layout.choices, ({ options }) =>
    uses.includes(options[0]!.use.id) ? 0 : -1,
  );
  return {
    days: Array.from({ length: days }, () => {
      const form = spread * normal();
      const own = new Map(techniques.map((id) => [id, logistic(centres.get(id)! + form)]));
      const final = (): number | null =>
        playRun(invented, layout, played, (id) => own.get(id) ?? 0, random).final;
      return Array.from({ length: perDay }, final);
    }),
  };
}

const meanOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
function errorOf(values: readonly number[]): number {
  const mean = meanOf(values);
  return Math.sqrt(meanOf(values.map((value) => (value - mean) ** 2)) / (values.length - 1));
}

describe('one run on a day of any form is a simulated one', () => {
  test.each([0.3, 0.6])('spread %d', (spread) => {
    const odds = computeOdds(inputOf(spread));
    const { days } = play(spread, 40_000, 1, 11, odds.uses);
    const finals = days.map(([one]) => one);
    const finished = finals.filter((final) => typeof final === 'number');
    const within = (told: number, simulated: readonly number[]): void => {
      expect(Math.abs(told - meanOf(simulated))).toBeLessThan(3 * errorOf(simulated));
    };
    within(
      odds.chance!,
      finals.map((final) => (typeof final === 'number' && final < 780 ? 1 : 0)),
    );
    within(
      odds.finishChance,
      finals.map((final) => (typeof final === 'number' ? 1 : 0)),
    );
    within(odds.finalTime, finished);
    for (const [share, quantile] of [
      [0.1, odds.quantiles.p10],
      [0.5, odds.quantiles.p50],
      [0.9, odds.quantiles.p90],
    ] as const)
      // prettier-ignore
      within(share, finished.map((final) => (final < quantile ? 1 : 0)));
    // The form matters here: a target that takes luck is beaten more often than if all days were alike.
    expect(odds.chance!).toBeGreaterThan(1.04 * computeOdds(inputOf(0)).chance!);
  });
});

/** A route in which every run is finished, and three possible runners with two worlds each. */
const finishable = route(
  techniques.map((id, i) => segment(`s${i}`, 60, [use(id, 5 + (i % 3), 2)], { spread: 1.2 })),
  techniques.map((id) => technique(id, { state: 'in-run' })),
);
const runnerShifts = [-0.5, 0, 0.5];
const shifted = (id: string, by: number): number => logistic(Math.log(rates[id]! / (1 - rates[id]!)) + by);
const scenarios = runnerShifts.map((by) => ({ weight: 1 / 3, rateOf: (id: string) => shifted(id, by) }));
const worlds = runnerShifts.flatMap((by, scenario) =>
  [0, 1].map((kind) => ({
    scenario,
    rateOf: (id: string) => {
      const rate = shifted(id, by);
      return rate + (techniques.indexOf(id) % 2 === kind ? 0.4 : -0.4) * rate * (1 - rate);
    },
    deviationOf: () => 0,
  })),
);

describe('the best of several runs is that of simulated runners whose days differ', () => {
  const perDay = 4;
  test.each<[name: string, form: FormOfDay, doubted: boolean]>([
    ['known rates', known(0.6), false],
    ['rates and single techniques in doubt', known(0.6), true],
    ['a spread that is in doubt', { spreads: Float64Array.of(0.2, 0.7), weights: Float64Array.of(0.5, 0.5), days: 9 }, true], // prettier-ignore
  ])('%s', (_, form, doubted) => {
    const input = { ...inputOf(0), route: finishable, form, ...(doubted && { scenarios, worlds }) };
    const { clockPerFinish } = computeOdds(input);
    const odds = computeOdds({ ...input, runMinutesPerDay: (perDay * clockPerFinish!) / 60 });
    expect(odds.form!.finishedPerDay).toBeCloseTo(perDay, 9);
    const random = seeded(7);
    const layout = layOutRoute(finishable);
    const played = Int32Array.from(layout.choices, () => 0);
    const counts = [5, 10, 25, 100];
    const bests = counts.map((): number[] => []);
    const centres = new Map<string, number>();
    const runners = 2500;
    for (let n = 0; n < runners; n++) {
      const world = Math.floor(n / 2) % worlds.length;
      const spread = form.spreads[n % 2 === 0 || form.spreads.length === 1 ? 0 : 1]!;
      const rateOf = doubted ? worlds[world]!.rateOf : (id: string) => rates[id]!;
      let best = Infinity;
      let own = new Map<string, number>();
      for (let run = 0; run < 100; run++) {
        if (run % perDay === 0) {
          const z = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
          own = new Map(
            techniques.map((id) => {
              const key = `${id} ${world} ${spread}`;
              const centre = centres.get(key) ?? centreOf(rateOf(id), spread);
              centres.set(key, centre);
              return [id, logistic(centre + spread * z)];
            }),
          );
        }
        best = Math.min(best, playRun(finishable, layout, played, (id) => own.get(id)!, random).final!);
        counts.forEach((count, i) => {
          if (run === count - 1) bests[i]!.push(best);
        });
      }
    }
    counts.forEach((count, i) => {
      const told = odds.bestAfter.find(({ runs }) => runs === count)!.mean;
      expect(Math.abs(told - meanOf(bests[i]!)), String(count)).toBeLessThan(3 * errorOf(bests[i]!));
    });
  });

  test('a day of many runs is no better than its form, and days of one run each are better than days that are alike', () => {
    const best = (spread: number, runMinutesPerDay: number): number =>
      computeOdds({ ...inputOf(spread), route: finishable, runMinutesPerDay }).bestAfter.at(-1)!.mean;
    expect(best(0.6, 1e9)).toBeGreaterThan(best(0, 120));
    expect(best(0.6, 1)).toBeLessThan(best(0, 120) - 3);
    expect(best(0.6, 1)).toBeLessThan(best(0.6, 120));
  });
});

describe('where all days are alike', () => {
  test('every number is the one without any form, to the last digit', () => {
    for (const more of [{}, { scenarios }, { scenarios, worlds }]) {
      const { route: played, tried, rateOf, target, constants } = inputOf(0);
      const without = { ...{ route: played, tried, rateOf, target, constants }, ...more };
      expect(computeOdds({ ...without, form: known(0) })).toEqual(computeOdds(without));
      expect(computeOdds(without).form).toBeNull();
    }
  });
});

test('with days that are alike, the numbers are those from before the form was part of the odds', () => {
  const input = { ...inputOf(0), route: finishable, scenarios, worlds };
  const { chance, finalTime, quantiles, perHour, bestAfter } = computeOdds(input);
  const { p10, p50, p90 } = quantiles;
  const found = [
    chance!,
    finalTime,
    p10,
    p50,
    p90,
    perHour!.line,
    perHour!.never,
    ...bestAfter.map(({ mean }) => mean),
  ];
  // As the odds were answered by the last version without a form.
  const before = [
    ...[0.15742893995147733, 796.9151144486643, 775.8861233538493, 796.4284382679025, 818.6116449167685],
    ...[1.4155127763419142, 0.6988945867788527],
    ...[796.9151144486646, 781.2709645610895, 776.4451716523208, 771.1597835282032, 767.7779800392622],
    764.805334413098,
  ];
  found.forEach((value, i) => expect(value).toBeCloseTo(before[i]!, 10));
});

describe('forms that stand for all', () => {
  const unsure: FormOfDay = {
    spreads: Float64Array.of(0, 0.3, 0.9),
    weights: Float64Array.of(0.2, 0.5, 0.3),
    days: 4,
  };

  test.each<[string, FormOfDay]>([
    ['known', known(0.4)],
    ['unsure', unsure],
  ])('have its mean, variance and fourth moment: %s', (_, form) => {
    const forms = dayForms(form);
    const moment = (power: number): number =>
      forms.reduce((sum, { shift, weight }) => sum + weight * shift ** power, 0);
    const ofForm = (power: number): number =>
      form.spreads.reduce((sum, spread, i) => sum + form.weights[i]! * spread ** power, 0);
    expect(moment(0)).toBeCloseTo(1, 12);
    expect(moment(1)).toBeCloseTo(0, 12);
    expect(moment(2)).toBeCloseTo(ofForm(2), 12);
    expect(moment(4)).toBeCloseTo(3 * ofForm(4), 12);
  });

  test('keep the mean rate', () => {
    const forms = dayForms(known(0.8));
    for (const rate of [1e-6, 0.02, 0.5, 0.93, 1 - 1e-6]) {
      const own = rateOnForms(rate, forms);
      expect(own.reduce((sum, value, f) => sum + value * forms[f]!.weight, 0)).toBeCloseTo(rate, 9);
      expect(own[0]! < own[1]! && own[1]! < own[2]!).toBe(true);
    }
    expect([...rateOnForms(0, forms), ...rateOnForms(1, forms)]).toEqual([0, 0, 0, 1, 1, 1]);
  });

  test('of many worlds are spread as the posterior is, among the first worlds as among all', () => {
    for (const count of [16, 128]) {
      const far = formsOfWorlds(unsure, 128)
        .slice(0, count)
        .map((forms) => forms.at(-1)!.shift / Math.sqrt(3));
      expect(far.filter((spread) => spread === 0).length / count).toBeCloseTo(0.2, 1);
      expect(far.filter((spread) => spread > 0.6).length / count).toBeCloseTo(0.3, 1);
    }
  });
});
