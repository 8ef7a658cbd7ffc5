import { describe, expect, it } from 'vitest';
import { expectMarked, plainRoute } from '../../marked.ts';

describe('unknown-use', () => {
  const route = plainRoute.replace('[crate-vault]', '[crate-vault, { use: crate-vault, id: second }]');

  it('is found where no use of the technique has that id', async () => {
    const files = {
      'a.route.yaml': route,
      'a.runs.yaml':
        'route: a.route.yaml\nruns:\n  - { start: 2026-10-05, tried: { crate-vault@second: [1, 1], ⟦crate-vault@secnd⟧: [1, 1] } }\n  - { start: 2026-10-06, tried: { ⟦crate-vault@roof⟧: [1, 1] } }\n',
    };
    const [near, far] = await expectMarked(files, 'unknown-use');
    expect(near?.message).toContain('Did you mean `crate-vault@second`?');
    expect(far?.message).toContain('write `crate-vault` alone');
    expect(far?.fix).toBeUndefined();
  });

  it('is found in a stretch practised whole', async () => {
    const log =
      'route: a.route.yaml\nsessions: [{ start: 2026-10-05, blocks: [{ segment: harbor, minutes: 9, tried: { ⟦crate-vault@third⟧: [1, 1] } }] }]\n';
    await expectMarked({ 'a.route.yaml': route, 'a.practice.yaml': log }, 'unknown-use');
  });
});
