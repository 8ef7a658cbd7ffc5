import { expect, test } from 'vitest';
import { timeTable } from './timeTable.ts';

test('the longest stage comes first, with its share of what all took', () => {
  const lines = timeTable(
    [
      { title: 'lint', seconds: 30 },
      { title: 'editor: person', seconds: 90 },
    ],
    92.34,
  );
  expect(lines).toEqual([
    'stage              seconds  share',
    'editor: person        90.0   75 %',
    'lint                  30.0   25 %',
    'all, one by one      120.0       ',
    'all, side by side     92.3       ',
  ]);
});
