import { expect, it } from 'vitest';
import { answer, bundlePanel, openPanel, startBeforeTests } from './page.ts';

const started = startBeforeTests(bundlePanel);

it('what is missing is said with the button that ends it, which is gone once nothing is missing', async () => {
  const panel = await openPanel(started(), { width: 300 });
  await panel.choose('week');
  const remedies = [{ remedy: 'minutes' as const, text: 'Create a Week File…' }];
  await panel.show({
    ...answer('week'),
    week: null,
    message: 'No day has minutes for practice yet.',
    remedies,
  });
  const button = panel.page.getByRole('button', { name: 'Create a Week File…' });
  await button.focus();
  await panel.page.keyboard.press('Enter');
  expect((await panel.said()).at(-1)).toEqual({ type: 'remedy', remedy: 'minutes' });
  await panel.show(answer('week'));
  expect(await button.isVisible()).toBe(false);
  await panel.page.close();
});

it('a part that is missing has its button beside its sentence', async () => {
  const panel = await openPanel(started());
  await panel.choose('odds');
  const remedies = [{ remedy: 'target' as const, text: 'Write a Target…' }];
  await panel.show({ ...answer('odds'), remedies });
  await panel.page.getByRole('button', { name: 'Write a Target…' }).click();
  expect((await panel.said()).at(-1)).toEqual({ type: 'remedy', remedy: 'target' });
  const above = panel.page.locator('.odds-view > .remedies').locator('xpath=preceding-sibling::*[1]');
  expect(await above.getAttribute('class')).toContain('reset-text');
  await panel.page.close();
});
