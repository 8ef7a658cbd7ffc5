import { describe, expect, it } from 'vitest';
import { expectMarked } from '../../marked.ts';

describe('duplicate-segment', () => {
  it('is found at the second, with the first beside it', async () => {
    const files = {
      'a.route.yaml':
        'game: L\ncategory: c\nsegments:\n  - { id: pier, time: 5 }\n  - { id: quay, time: 5 }\n  - { time: 6, id: ⟦pier⟧ }\n',
    };
    const [finding] = await expectMarked(files, 'duplicate-segment');
    expect(finding?.severity).toBe('error');
    expect(finding?.related.map(({ start }) => start)).toEqual([files['a.route.yaml'].indexOf('pier')]);
    await expectMarked(
      { 'a.route.yaml': files['a.route.yaml'].replace('⟦pier⟧', 'gate') },
      'duplicate-segment',
    );
  });
});
