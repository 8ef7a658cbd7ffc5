import { expect, test } from 'vitest';
import { rank } from '../../../../server/src/model/index.ts';
import type { RankInput } from '../../../../server/src/model/run/preparedModel.ts';
import { standingSentence } from '../../../../server/src/queries/standingText.ts';
import { noLogs, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';

const input: RankInput = {
  route: route(
    [segment('a', 60, [use('round', 2, 1), use('about', 2, 1), use('lonely', 2, 1), use('left', 2, 1)])],
    [
      technique('round', { needs: ['about'] }),
      technique('about', { needs: ['round'] }),
      technique('lonely', { needs: ['nowhere'] }),
      technique('left', { needs: ['nowhere'] }),
      technique('free'),
    ],
  ),
  logs: noLogs,
  asOfDay: 0,
  options: { ...plainOptions, leaveOut: ['left', 'round'] },
};

test('why a technique is not ranked is what its standing says', () => {
  const { skipped, standings } = rank(input);
  const reasons = new Map(skipped.map(({ technique: id, reason }) => [id, reason]));
  const said = new Map(standings.map((one) => [one.technique, standingSentence(one, (id) => `\`${id}\``)]));
  expect(reasons.get('round')).toBe('The week file leaves it out.');
  expect(reasons.get('about')).toBe('Its needs form a loop: `about` → `round` → `about`.');
  expect(reasons.get('lonely')).toBe('It needs `nowhere`, which the route does not have.');
  expect(reasons.get('left')).toBe('The week file leaves it out.');
  for (const id of ['round', 'about', 'lonely', 'left']) expect(said.get(id), id).toBe(reasons.get(id));
});
