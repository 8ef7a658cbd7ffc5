import { describe, expect, it } from 'vitest';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { codes } from '../../builders/sessions.ts';
import { expectMarked } from '../../marked.ts';

describe('block-not-counted', () => {
  it('is found where neither technique nor what was tried is written', async () => {
    const practice = (block: string) => ({
      'a.route.yaml': exampleRoute,
      'a.practice.yaml': `route: a.route.yaml\nsessions: [{ start: 2026-10-05, blocks: [{ ${block} }] }]\n`,
    });
    const code = 'block-not-counted';
    await expectMarked(practice('⟦minutes⟧: 25'), code);
    await expectMarked(practice('⟦segment⟧: harbor, minutes: 25'), code);
    await expectMarked(
      practice('technique: crate-vault, minutes: 25, ⟦tried⟧: { crate-vault: [1, 2] }'),
      code,
    );
    expect(await codes(practice('segment: harbor, minutes: 25, tried: { crate-vault: [1, 2] }'))).toEqual([]);
  });
});
