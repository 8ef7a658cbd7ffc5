/** Techniques that were in the run before the logs began: practised for nobody knows how long. */
import { expect, test } from 'vitest';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import { curveGrid } from '../../../../server/src/model/skill/curveGrid.ts';
import { curveLogits } from '../../../../server/src/model/skill/curveRates.ts';
import { readHistory } from '../../../../server/src/model/skill/practiceHistory.ts';
import { rank } from '../../../../server/src/model/index.ts';
import type { Constants, PracticeEntry } from '../../../../server/src/model/index.ts';
import { practiceRates } from '../../../helpers/practiceRates.ts';
import { block, plainOptions, route, runTries, segment, technique, use } from '../../../helpers/invented.ts';

const grid = curveGrid(defaultConstants, 'headStart');
const fresh = curveGrid(defaultConstants);

test('a head start adds its practice to what is logged', () => {
  const level = Math.log(1 + 300 / defaultConstants.unitPractice);
  const rates = practiceRates(grid, level);
  defaultConstants.headStarts.forEach((start, head) => {
    // ln(1 + E/unit) of both together: E is the sum of the two.
    const earlier = defaultConstants.unitPractice * Math.expm1(start);
    const both = practiceRates(fresh, Math.log(1 + (300 + earlier) / defaultConstants.unitPractice));
    for (let pair = 0; pair < grid.pairs; pair += 17) {
      // Each head start has one ceiling here. With the first floor, which is 0, a curve is in proportion to its ceiling.
      const curve = pair * grid.shapes + head;
      const other = pair * fresh.shapes + defaultConstants.floors.length * grid.ceilingBand[curve]!;
      const expected = (both[other]! * grid.curveCeiling[curve]!) / fresh.curveCeiling[other]!;
      // Rates near 0 and 1 are limited, each curve by itself.
      const limited = [rates[curve]!, both[other]!].some(
        (rate) => rate <= 1.0001e-4 || rate >= 1 - 1.0001e-4,
      );
      if (!limited) expect(rates[curve]).toBeCloseTo(expected, 12);
    }
  });
});

test('log odds of chosen curves with a head start are those of their rates', () => {
  const curves = Int32Array.from({ length: grid.curves }, (_, i) => i);
  for (const at of [0, 2.3, 7]) {
    const rates = practiceRates(grid, at);
    curveLogits(grid, curves, at).forEach((odds, i) => {
      expect(odds).toBeCloseTo(Math.log(rates[i]! / (1 - rates[i]!)), 6);
    });
  }
});

test('what was tried in a run before it was practised has a head start', () => {
  const one = technique('one');
  const runFirst = readHistory(one, [block('one', 5, 10, 20)], [runTries('one', 3, 5, 6)], defaultConstants);
  const practiceFirst = readHistory(
    one,
    [block('one', 2, 1, 20)],
    [runTries('one', 3, 5, 6)],
    defaultConstants,
  );
  expect([runFirst.headStart, practiceFirst.headStart]).toEqual([true, false]);
});

test('without any entry the state decides', () => {
  const of = (state: 'in-run' | 'learning'): boolean =>
    readHistory(technique('one', { state }), [], [], defaultConstants).headStart;
  expect([of('in-run'), of('learning')]).toEqual([true, false]);
});

/** Six hard techniques that have been in the run since before the logs began, and one that is new. */
function settled(constants: Partial<Constants> = {}, practice: PracticeEntry[] = [], landed = 17) {
  const ids = ['a', 'b', 'c', 'd', 'e', 'f'];
  const techniques = [
    ...ids.map((id) => technique(id, { difficulty: 6, state: 'in-run' })),
    technique('new', { difficulty: 6 }),
  ];
  const segments = [...ids, 'new'].map((id) => segment(`s-${id}`, 60, [use(id, 4, 2)]));
  const runs = ids.flatMap((id) => [0, 7, 14].map((day) => runTries(id, day, landed, 20)));
  return rank({
    route: route(segments, techniques),
    logs: { practice, runs },
    asOfDay: 15,
    options: { ...plainOptions, all: true },
    constants,
  });
}

const noHeadStart = { headStarts: defaultConstants.headStarts.map(() => 0) };

test('what was learned before the logs says nothing about the runner until it is practised', () => {
  const { offset, pressure } = settled().runner;
  expect(offset.mean).toBeCloseTo(0, 3);
  expect(pressure.mean).toBeCloseTo(defaultConstants.pressureMean, 3);
});

test('from then on the difference between practice and runs says what pressure takes', () => {
  const practice = ['a', 'b', 'c', 'd', 'e', 'f'].map((id) => block(id, 14, 95, 100));
  // 95 % in practice and 65 % in runs are 2.3 log odds apart.
  const { pressure } = settled({}, practice, 13).runner;
  expect(pressure.mean).toBeGreaterThan(defaultConstants.pressureMean + 0.5);
});

test('and an hour more of it is not expected to change much', () => {
  const gainOf = (ranking: ReturnType<typeof settled>) => ranking.rows.find((r) => r.technique === 'a')!.gain;
  expect(gainOf(settled())).toBeLessThan(0.7 * gainOf(settled(noHeadStart)));
});
