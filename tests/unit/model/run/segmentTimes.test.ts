import { expect, test } from 'vitest';
import {
  fitSegmentTimes,
  leastRuns,
  kaplanMeierSteps,
  withSegmentTimes,
} from '../../../../server/src/model/run/segmentTimes.ts';
import type { LoggedRun } from '../../../../server/src/model/run/segmentTimes.ts';
import type { SegmentModel } from '../../../../server/src/model/core/types.ts';
import { route, seeded, segment, use } from '../../../helpers/invented.ts';
import { ends } from '../../../helpers/runPlans.ts';

/** The model's own scatter: a gamma of shape four, two spreads above its least. */
function scatter(mean: number, spread: number, random: () => number): number {
  const four = -Math.log((1 - random()) * (1 - random()) * (1 - random()) * (1 - random()));
  return mean + spread * (four / 2 - 2);
}

const only = (one: SegmentModel, runs: readonly LoggedRun[]) => fitSegmentTimes(route([one], []), runs)[0]!;
const plain = (seconds: number): LoggedRun => ({ times: [{ segment: 'a', seconds }], tried: [] });

test('time and spread are found again, and say how many runs they stand on', () => {
  const random = seeded(8);
  const runs = Array.from({ length: 2000 }, () => plain(scatter(91.3, 1.7, random)));
  const fit = only(segment('a', 80, [], { spread: 5 }), runs);
  expect(fit).toMatchObject({ timeFrom: 'runs', spreadFrom: 'runs', runs: 2000, longerThan: 0, leftOut: 0 });
  // Three standard errors: of a time at most 1.25·sd/√n, as a median, of a spread about 1.4·sd/√n, as quartiles.
  expect(Math.abs(fit.time - 91.3)).toBeLessThan(0.15);
  expect(Math.abs(fit.spread - 1.7)).toBeLessThan(0.16);
});

test('below the stated number of runs the route’s figures stand', () => {
  const one = segment('a', 80, [], { spread: 5 });
  const few = Array.from({ length: leastRuns.time - 1 }, (_, i) => plain(70 + i));
  expect(only(one, few)).toMatchObject({
    time: 80,
    spread: 5,
    timeFrom: 'route',
    spreadFrom: 'route',
    runs: 7,
  });
  const some = [...few, plain(77)];
  expect(only(one, some)).toMatchObject({ timeFrom: 'runs', spreadFrom: 'route', spread: 5, runs: 8 });
  expect(only(one, [])).toMatchObject({ time: 80, spread: 5, runs: 0 });
});

test('landed saves, missed losses, retries and luck are taken out', () => {
  const random = seeded(21);
  const one = segment('a', 80, [use('kick', 4, 2), use('swing', 3, 1, { retrySeconds: 2, maxTries: 3 })], {
    luck: [{ chance: 0.3, adds: 5 }],
  });
  const runs = Array.from({ length: 1500 }, (): LoggedRun => {
    const [kick, swing] = [random() < 0.6, 1 + Math.floor(3 * random())];
    const luck = random() < 0.3 ? 5 : 0;
    const seconds = scatter(90, 1.2, random) + (kick ? -4 : 2) - 3 + 2 * (swing - 1) + luck;
    return {
      times: [{ segment: 'a', seconds }],
      tried: [
        { use: 'kick', landed: Number(kick), tries: 1 },
        { use: 'swing', landed: 1, tries: swing },
      ],
    };
  });
  const fit = only(one, runs);
  expect(Math.abs(fit.time - 90)).toBeLessThan(0.25);
  expect(Math.abs(fit.spread - 1.2)).toBeLessThan(0.25);
  expect(fit.leftOut).toBe(0);
});

test('a tenth of the runs gone badly wrong moves it little', () => {
  const random = seeded(5);
  const runs = Array.from({ length: 400 }, (_, i) =>
    plain(scatter(90, 1.5, random) + (i % 10 === 0 ? 120 : 0)),
  );
  const fit = only(segment('a', 80, []), runs);
  // A mean would be off by 12 s, a standard deviation by 34.
  expect(Math.abs(fit.time - 90)).toBeLessThan(0.6);
  expect(fit.spread).toBeLessThan(2.1);
});

test('segments given up count as longer than that, so that resets do not flatter the time', () => {
  const random = seeded(13);
  const one = segment('a', 80, []);
  const runs = Array.from({ length: 1000 }, (): LoggedRun => {
    const seconds = scatter(90, 2, random);
    const patience = 87 + 6 * random();
    if (seconds <= patience) return plain(seconds);
    return { times: [], tried: [], givenUp: { segment: 'a', seconds: patience } };
  });
  const fit = only(one, runs);
  expect(fit.longerThan).toBeGreaterThan(300);
  expect(Math.abs(fit.time - 90)).toBeLessThan(0.4);
  const finished = only(
    one,
    runs.filter(({ givenUp }) => givenUp === undefined),
  );
  expect(finished.time).toBeLessThan(fit.time - 0.5);
});

test('the curve of times cut short, against a published example', () => {
  // S: Kaplan & Meier 1958, JASA 53, the example of section 1: deaths at 0.8, 3.1, 5.4, 9.2, losses at 1.0, 2.7, 7.0,
  // 12.1; survival 7/8, 7/10, 21/40, 21/80 after the deaths.
  const seen = [0.8, 3.1, 5.4, 9.2].map((seconds) => ({ seconds, complete: true }));
  const cut = [1.0, 2.7, 7.0, 12.1].map((seconds) => ({ seconds, complete: false }));
  const { points, masses } = kaplanMeierSteps([...cut, ...seen]);
  expect([...points]).toEqual([0.8, 3.1, 5.4, 9.2, 12.1]);
  let left = 1;
  const survival = [...masses].slice(0, 4).map((mass) => (left -= mass));
  [7 / 8, 7 / 10, 21 / 40, 21 / 80].forEach((share, i) => {
    expect(survival[i]).toBeCloseTo(share, 12);
  });
});

test('times of which the log does not tell what techniques did are left out, and counted', () => {
  const clip = use('clip', 9, 3, { backup: 'hop' });
  const one = segment('a', 80, [clip]);
  const run = (landed: number): LoggedRun => ({
    times: [{ segment: 'a', seconds: 71 }],
    tried: [{ use: 'clip', landed, tries: 1 }],
  });
  const runs = [...Array.from({ length: 9 }, () => run(1)), run(0), plain(70)];
  // The backup's result is not told, and neither is anything in a run that logs no tries at all.
  expect(only(one, runs)).toMatchObject({ runs: 9, leftOut: 2, timeFrom: 'runs' });
  const two = route(
    [
      segment('a', 80, [use('kick', 4, 1, { id: 'kick@a' })]),
      segment('b', 80, [use('kick', 2, 1, { id: 'kick@b' })]),
    ],
    [],
  );
  const unclear = { times: [{ segment: 'a', seconds: 70 }], tried: [{ use: 'kick', landed: 1, tries: 2 }] };
  expect(fitSegmentTimes(two, [unclear])[0]).toMatchObject({ runs: 0, leftOut: 1 });
  const told = { times: [{ segment: 'a', seconds: 70 }], tried: [{ use: 'kick@a', landed: 1, tries: 1 }] };
  expect(fitSegmentTimes(two, [told])[0]).toMatchObject({ runs: 1, leftOut: 0 });
});

test('odd logs: unknown segments, times that are none, all the same', () => {
  const one = segment('a', 80, [use('leap', 3, 0, ends)]);
  const odd: LoggedRun[] = [
    plain(NaN),
    plain(-3),
    { times: [{ segment: 'nowhere', seconds: 3 }], tried: [] },
  ];
  expect(only(one, odd)).toMatchObject({ runs: 0, leftOut: 0, time: 80 });
  const same = only(
    segment('a', 80, []),
    Array.from({ length: 30 }, () => plain(77.5)),
  );
  expect(same.time).toBeCloseTo(77.5, 2);
  expect(same.spread).toBeLessThan(0.02);
});

test('fitted figures take the place of the route’s', () => {
  const model = route([segment('a', 80, [], { survive: 0.9 })], []);
  const fit = { ...fitSegmentTimes(model, [])[0]!, time: 77, spread: 2 };
  expect(withSegmentTimes(model, [fit]).segments[0]).toMatchObject({ time: 77, spread: 2, survive: 0.9 });
});
