import { expect, test } from 'vitest';
import {
  answerableObjectives,
  objectiveOptions,
  objectives,
} from '../../../../../server/src/model/rank/objectives/objectives.ts';
import { rank } from '../../../../../server/src/model/rank/rank.ts';
import { defaultObjective } from '../../../../../server/src/protocol/panel.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../../helpers/invented.ts';

const ids = objectives.map(({ id }) => id);

/** A route of one technique, asked for by an objective with or without a time to beat. */
function asked(objective: string | undefined, target?: number) {
  return rank({
    route: route([segment('a', 600, [use('vault', 8, 4)])], [technique('vault')]),
    logs: { practice: [block('vault', 3, 60, 100, { minutes: 10 })], runs: [] },
    asOfDay: 4,
    options: {
      ...plainOptions,
      ...(objective !== undefined && { objective }),
      ...(target !== undefined && { target }),
    },
  });
}

test('each objective has an id of its own, and the first needs nothing', () => {
  expect(new Set(ids).size).toBe(ids.length);
  expect(objectives[0].needs).toBeUndefined();
});

test('the editor begins with the first objective', () => {
  expect(defaultObjective).toBe(objectives[0].id);
});

test('an objective is offered only where what it needs is known', () => {
  for (const { id, needs } of objectives) {
    expect(answerableObjectives({ target: 600 }).map((one) => one.id)).toContain(id);
    expect(answerableObjectives({}).some((one) => one.id === id)).toBe(needs === undefined);
  }
});

test('the options of an objective hold what it needs and nothing else', () => {
  for (const { id, needs } of objectives)
    expect(objectiveOptions(id, { target: 600 })).toEqual(
      needs === 'target' ? { objective: id, target: 600 } : { objective: id },
    );
});

test('an unknown objective has the options of the first', () => {
  expect(objectiveOptions('speed', { target: 600 })).toEqual({ objective: objectives[0].id });
});

test('every objective ranks and says so by its id', () => {
  for (const { id } of objectives) expect(asked(id, 596).objective).toBe(id);
});

test.each([
  ['no objective', undefined, undefined],
  ['an unknown objective', 'speed', 596],
  ['an objective without what it needs', 'target', undefined],
  ['a target that no objective was asked for by', undefined, 596],
])('%s: the ranking is the first one, row for row', (_what, objective, target) => {
  expect(asked(objective, target)).toEqual(asked(objectives[0].id));
});
