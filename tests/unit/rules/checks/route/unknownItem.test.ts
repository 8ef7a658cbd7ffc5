import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, plainRoute } from '../../marked.ts';

describe('unknown-item', () => {
  it('is found where nothing takes what a use needs', async () => {
    const route = (item: string) =>
      plainRoute.replace(
        '[crate-vault]',
        `[{ use: crate-vault, take: oil }, { use: crate-vault, id: b, with: ${item} }]`,
      );
    const [finding] = await expectMarked({ 'a.route.yaml': route('⟦oli⟧') }, 'unknown-item');
    expect(finding?.message).toContain('Did you mean `oil`?');
    await expectMarked({ 'a.route.yaml': route('⟦rope⟧') }, 'unknown-item');
    await expectMarked({ 'a.route.yaml': route('oil') }, 'unknown-item');
  });
});

describeFixOnSample('unknown-item', [{ file: 'route', from: 'with: oil }', to: 'with: oill }' }], {
  restores: true,
});
