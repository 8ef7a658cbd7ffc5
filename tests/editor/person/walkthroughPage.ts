import type { Page } from 'playwright-core';

/** The titles of the steps that the page of the walkthrough shows as done; empty where the page is not in front. */
export function stepsDone(page: Page): Promise<string[]> {
  return page
    .locator('.getting-started-step')
    .filter({ has: page.locator('.codicon-getting-started-step-checked') })
    .locator('.step-title')
    .allInnerTexts();
}
